import type { Decimal } from "../quantity/decimal.ts";
import { InputError, requireFinite, requireNotNegative, requirePositive } from "../quantity/input-error.ts";
import { normalCdf } from "../statistics/distributions.ts";

/** Limits a value must keep, in its own unit. */
export interface ToleranceLimits {
  readonly lower: Decimal;
  readonly upper: Decimal;
}

/** @throws InputError `limits.upper` when it does not lie above the lower limit */
function requireLimits(limits: ToleranceLimits): void {
  requireFinite("limits.lower", limits.lower);
  requireFinite("limits.upper", limits.upper);
  if (!limits.upper.greaterThan(limits.lower)) {
    throw new InputError("limits.upper", "must be greater than the lower limit");
  }
}

/**
 * Probability that the true value keeps its limits, for a normal distribution about the measured one:
 * p_c = Φ((T_U − y)/u) − Φ((T_L − y)/u), JCGM 106:2012 7.4 (clause from memory).
 * @param standardUncertainty u(y), greater than zero
 */
export function conformityProbability(
  value: Decimal,
  standardUncertainty: Decimal,
  limits: ToleranceLimits,
): number {
  requireLimits(limits);
  requireFinite("value", value);
  const u = requirePositive("standardUncertainty", standardUncertainty);
  const above = normalCdf(limits.lower.minus(value).div(u).toNumber());
  const below = normalCdf(limits.upper.minus(value).div(u).toNumber());
  return below - above;
}

/**
 * Guarded acceptance: the value keeps both limits by at least its expanded uncertainty, JCGM 106:2012 8.3.2 (clause from
 * memory).
 */
export function acceptedWithGuard(value: Decimal, expanded: Decimal, limits: ToleranceLimits): boolean {
  requireLimits(limits);
  requireFinite("value", value);
  const guard = requireNotNegative("expanded", expanded);
  return (
    value.minus(guard).greaterThanOrEqualTo(limits.lower) && value.plus(guard).lessThanOrEqualTo(limits.upper)
  );
}
