import type { Decimal } from "../quantity/decimal.ts";
import { InputError, requireFinite, requireNotNegative, requirePositive } from "../quantity/input-error.ts";
import { normalCdf } from "../statistics/distributions.ts";
import type { DecisionRule } from "../vocabulary/decision-rules.ts";

/** Limits a value must keep, in its own unit; null: none on that side. */
export interface ToleranceLimits {
  readonly lower: Decimal | null;
  readonly upper: Decimal | null;
}

/** A rule as it is printed beside a decision. */
export const DECISION_WORDS: Readonly<Record<DecisionRule, string>> = {
  "simple-acceptance": "simple acceptance (JCGM 106:2012 8.2): the value lies within its limits",
  "guarded-acceptance":
    "guarded acceptance with w = U (JCGM 106:2012 8.3): the value lies within its limits by at least its U",
};

/** @throws InputError `limits.upper` when it does not lie above the lower limit, `limits` when there is none */
export function requireLimits({ lower, upper }: ToleranceLimits): void {
  if (lower === null && upper === null) throw new InputError("limits", "needs a lower or an upper limit");
  if (lower) requireFinite("limits.lower", lower);
  if (upper) requireFinite("limits.upper", upper);
  if (lower && upper && !upper.greaterThan(lower)) {
    throw new InputError("limits.upper", "must be greater than the lower limit");
  }
}

/**
 * Probability that the true value keeps its limits, for a normal distribution about the measured one:
 * p_c = Φ((T_U − y)/u) − Φ((T_L − y)/u), a missing limit at infinity; JCGM 106:2012 7.3 and 7.4 (clauses from memory).
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
  const upTo = (limit: Decimal): number => normalCdf(limit.minus(value).div(u).toNumber());
  return (limits.upper ? upTo(limits.upper) : 1) - (limits.lower ? upTo(limits.lower) : 0);
}

/** What is decided of one value, and how probable it is that the true value keeps its limits. */
export interface ConformityDecision {
  readonly conforms: boolean;
  readonly probability: number;
  /** The limits the value was held against: by guarded acceptance narrower by U on each side. */
  readonly acceptance: ToleranceLimits;
}

/**
 * Holds a value against its limits by a named rule.
 * @param expanded U of the value, 95 %
 * @throws InputError as `conformityProbability`, and `expanded` when it is negative
 */
export function conformityDecision(
  {
    value,
    standardUncertainty,
    expanded,
  }: {
    readonly value: Decimal;
    readonly standardUncertainty: Decimal;
    readonly expanded: Decimal;
  },
  limits: ToleranceLimits,
  rule: DecisionRule,
): ConformityDecision {
  const probability = conformityProbability(value, standardUncertainty, limits);
  const guard = requireNotNegative("expanded", expanded).times(rule === "guarded-acceptance" ? 1 : 0);
  const acceptance = {
    lower: limits.lower?.plus(guard) ?? null,
    upper: limits.upper?.minus(guard) ?? null,
  };
  const conforms =
    (acceptance.lower === null || value.greaterThanOrEqualTo(acceptance.lower)) &&
    (acceptance.upper === null || value.lessThanOrEqualTo(acceptance.upper));
  return { conforms, probability, acceptance };
}

/** A probability of conformity as printed: never 100 % and never 0 %, for no measurement is certain. */
export function conformityPercent(probability: number): string {
  if (probability < 0.001) return "< 0.1 %";
  return `${((100 * Math.floor(Math.min(probability, 0.999) * 1000)) / 1000).toFixed(1)} %`;
}
