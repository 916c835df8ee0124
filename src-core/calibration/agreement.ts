import { Decimal, decimal, TWO } from "../quantity/decimal.ts";
import { InputError, requireNotNegative, requirePositive } from "../quantity/input-error.ts";

/** A factor as a partner in a comparison; µm/div. */
export interface ComparedFactor {
  readonly factor: Decimal;
  readonly standardUncertainty: Decimal;
}

export interface AgreementInput {
  readonly earlier: ComparedFactor;
  readonly later: ComparedFactor;
  /** The part of u that both share: that of the micrometer when both used the same one, otherwise 0. */
  readonly sharedUncertainty: Decimal;
  /** k of both expanded uncertainties; 2 unless said otherwise. */
  readonly coverageFactor?: Decimal;
}

export const AGREEMENT_VERDICTS = ["agrees", "hidden change", "discrepancy"] as const;
/** `hidden change`: |E_n| ≤ 1 < |E_n′|, a change that the shared reference would let pass. */
export type AgreementVerdict = (typeof AGREEMENT_VERDICTS)[number];

export interface Agreement {
  /** later − earlier, µm/div, and relative to the earlier. */
  readonly difference: Decimal;
  readonly relativeChange: Decimal;
  /** (f₂ − f₁)/√(U₁² + U₂²). */
  readonly normalisedError: Decimal;
  /** The same with what both share taken out: (f₂ − f₁)/(k·√(u₁² + u₂² − 2u_shared²)). */
  readonly normalisedErrorApart: Decimal;
  /** (f₂ − f₁)/√(u₁² + u₂²). */
  readonly zeta: Decimal;
  readonly verdict: AgreementVerdict;
}

/**
 * Agreement of two factors of one train: E_n (ISO 13528:2015 9.7; ISO/IEC 17043, from memory) and E_n with the common
 * reference taken out, since two calibrations from one stage micrometer share its error.
 * @throws InputError when a factor or uncertainty is not usable, or the shared part exceeds either uncertainty
 */
export function agreementOf(input: AgreementInput): Agreement {
  const { earlier, later, sharedUncertainty } = input;
  const k = requirePositive("coverageFactor", input.coverageFactor ?? TWO);
  requirePositive("earlier.factor", earlier.factor);
  requirePositive("later.factor", later.factor);
  requirePositive("earlier.standardUncertainty", earlier.standardUncertainty);
  requirePositive("later.standardUncertainty", later.standardUncertainty);
  requireNotNegative("sharedUncertainty", sharedUncertainty);
  const smaller = Decimal.min(earlier.standardUncertainty, later.standardUncertainty);
  if (sharedUncertainty.greaterThan(smaller)) {
    throw new InputError("sharedUncertainty", "must not exceed either uncertainty");
  }
  const variance = earlier.standardUncertainty.pow(2).plus(later.standardUncertainty.pow(2));
  const apart = variance.minus(sharedUncertainty.pow(2).times(2));
  const difference = later.factor.minus(earlier.factor);
  const zeta = difference.div(variance.sqrt());
  const normalisedError = zeta.div(k);
  const normalisedErrorApart = apart.isZero() ? normalisedError : difference.div(apart.sqrt()).div(k);
  return {
    difference,
    relativeChange: difference.div(earlier.factor),
    normalisedError,
    normalisedErrorApart,
    zeta,
    verdict: verdictOf(normalisedError, normalisedErrorApart),
  };
}

function verdictOf(plain: Decimal, apart: Decimal): AgreementVerdict {
  if (plain.abs().greaterThan(1)) return "discrepancy";
  return apart.abs().greaterThan(1) ? "hidden change" : "agrees";
}

/** The outcome of a quick check against the factor in force. */
export interface IntermediateCheck {
  /** Largest difference that may be chance, µm/div. */
  readonly limit: Decimal;
  /** |difference|/limit. */
  readonly ratio: Decimal;
  readonly passed: boolean;
}

/**
 * A quick check with the same micrometer: |f_check − f| ≤ 2·√(u_occ² + u_occ,check²), in which only what is fresh on each
 * occasion counts. Our own rule, built on JCGM 100:2008 F.1.2.3.
 * @param inForce the factor in force with the occasion part of its u; @param check that of the check
 */
export function intermediateCheck(inForce: ComparedFactor, check: ComparedFactor): IntermediateCheck {
  requirePositive("inForce.factor", inForce.factor);
  requirePositive("check.factor", check.factor);
  const variance = requireNotNegative("inForce.standardUncertainty", inForce.standardUncertainty)
    .pow(2)
    .plus(requireNotNegative("check.standardUncertainty", check.standardUncertainty).pow(2));
  const limit = requirePositive("check.standardUncertainty", variance.sqrt()).times(2);
  const ratio = check.factor.minus(inForce.factor).abs().div(limit);
  return { limit, ratio, passed: ratio.lessThanOrEqualTo(decimal(1)) };
}
