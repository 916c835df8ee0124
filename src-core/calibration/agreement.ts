import { Decimal, decimal, TWO } from "../quantity/decimal.ts";
import { InputError, requireNotNegative, requirePositive } from "../quantity/input-error.ts";
import type { AgreementVerdict } from "../vocabulary/calibration.ts";

/** A factor as a partner in a comparison; µm/div. */
export interface ComparedFactor {
  readonly factor: Decimal;
  readonly standardUncertainty: Decimal;
  /** U at 95 %; k·u when left out. */
  readonly expandedUncertainty?: Decimal;
}

export interface AgreementInput {
  readonly earlier: ComparedFactor;
  readonly later: ComparedFactor;
  /** The part of u that both share: that of the micrometer when both used the same one, otherwise 0. */
  readonly sharedUncertainty: Decimal;
  /** k of a partner whose U is left out; 2 unless said otherwise. */
  readonly coverageFactor?: Decimal;
}

export interface Agreement {
  /** later − earlier, µm/div, and relative to the earlier. */
  readonly difference: Decimal;
  readonly relativeChange: Decimal;
  /** (f₂ − f₁)/√(U₁² + U₂²). */
  readonly normalisedError: Decimal;
  /** The same with what both share taken out: (f₂ − f₁)/√(U₁² + U₂² − 2k₁k₂·u_shared²). */
  readonly normalisedErrorApart: Decimal;
  /** (f₂ − f₁)/√(u₁² + u₂²). */
  readonly zeta: Decimal;
  readonly verdict: AgreementVerdict;
}

/** U of a partner, which must not be zero. */
function expandedOf(field: string, one: ComparedFactor, k: Decimal): Decimal {
  requirePositive(`${field}.factor`, one.factor);
  const u = requirePositive(`${field}.standardUncertainty`, one.standardUncertainty);
  return requirePositive(`${field}.expandedUncertainty`, one.expandedUncertainty ?? u.times(k));
}

/**
 * Agreement of two factors of one train: E_n (ISO 13528:2015 9.7; ISO/IEC 17043, from memory) and E_n with the common
 * reference taken out, since two calibrations from one stage micrometer share its error.
 * @throws InputError when a factor or uncertainty is not usable, or the shared part exceeds either uncertainty
 */
export function agreementOf(input: AgreementInput): Agreement {
  const { earlier, later } = input;
  const k = requirePositive("coverageFactor", input.coverageFactor ?? TWO);
  const first = expandedOf("earlier", earlier, k);
  const second = expandedOf("later", later, k);
  const shared = requireNotNegative("sharedUncertainty", input.sharedUncertainty);
  if (shared.greaterThan(Decimal.min(earlier.standardUncertainty, later.standardUncertainty))) {
    throw new InputError("sharedUncertainty", "must not exceed either uncertainty");
  }
  const difference = later.factor.minus(earlier.factor);
  const both = first.times(first).plus(second.times(second));
  const factors = first.div(earlier.standardUncertainty).times(second.div(later.standardUncertainty));
  const apart = both.minus(factors.times(shared.times(shared)).times(2));
  const normalisedError = difference.div(both.sqrt());
  // Nothing of their own left on either side: then the plain E_n is all there is.
  const normalisedErrorApart = apart.greaterThan(0) ? difference.div(apart.sqrt()) : normalisedError;
  const variance = earlier.standardUncertainty.pow(2).plus(later.standardUncertainty.pow(2));
  return {
    difference,
    relativeChange: difference.div(earlier.factor),
    normalisedError,
    normalisedErrorApart,
    zeta: difference.div(variance.sqrt()),
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
