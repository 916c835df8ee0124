export const FACTOR_ESTIMATORS = ["origin-regression", "mean-of-ratios"] as const;
export type FactorEstimator = (typeof FACTOR_ESTIMATORS)[number];

export const COVERAGE_RULES = ["t95", "k2"] as const;
/** `t95`: Student's t for 95 % at ν_eff truncated (JCGM 100:2008 G.4.1, G.6.4); `k2`: k = 2. */
export type CoverageRule = (typeof COVERAGE_RULES)[number];

/**
 * What the certificate's second column holds. `position`: certified distance from zero; `error`: certified − nominal;
 * `correction`: what to add to the marked value, here the same number as the error; some laboratories print
 * indicated − true instead, which is `indication-error` (nominal − certified). The entry must say which.
 */
export const CERTIFICATE_SIGNS = ["position", "error", "correction", "indication-error"] as const;
export type CertificateSign = (typeof CERTIFICATE_SIGNS)[number];

export const AGREEMENT_VERDICTS = ["agrees", "hidden change", "discrepancy"] as const;
/** `hidden change`: |E_n| ≤ 1 < |E_n′|, a change that the shared reference would let pass. */
export type AgreementVerdict = (typeof AGREEMENT_VERDICTS)[number];
