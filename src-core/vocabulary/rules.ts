/**
 * The rule a factor's uncertainty is calculated by. 1: no scatter for one setting, the certificate's part that of the
 * longest span. 2: pooled repeatability, and the certificate's part that of the estimate used. Records without a rule
 * are of rule 1, and are recomputed by it when they are verified.
 */
export const CALCULATION_RULES = [1, 2] as const;
export type CalculationRule = (typeof CALCULATION_RULES)[number];
export const CALCULATION_RULE = 2 satisfies CalculationRule;

/**
 * The rule a calibration is assessed by. 2: divisions are regressed on certified positions, and a pattern is named
 * only where the settings can show it. Calibrations put in force before have no assessment of this rule.
 */
export const ASSESSMENT_RULE = 2;

export const FINDING_STATES = ["within", "beyond", "not tested"] as const;
export type FindingState = (typeof FINDING_STATES)[number];

export const VERDICT_OUTCOMES = ["accept", "investigate", "stop"] as const;
export type VerdictOutcome = (typeof VERDICT_OUTCOMES)[number];
