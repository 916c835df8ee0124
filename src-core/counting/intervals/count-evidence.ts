import { normalQuantile } from "../../statistics/distributions.ts";
import { COUNT_RULE_OF_TODAY, type CountRule } from "../../vocabulary/counting.ts";
import { sumOfObjects } from "../inputs/counting-unit.ts";
import { type BetweenFieldInterval, betweenFieldInterval } from "./between-field-interval.ts";
import { requireFields } from "./count-checks.ts";
import { type DispersionResult, dispersionTest } from "./dispersion-test.ts";
import { garwoodInterval } from "./poisson-interval.ts";
import { skewedLimits } from "./skewed-fields.ts";

/** What a count says about the total it estimates, and on what ground. All values are objects in the counted portion. */
export interface CountEvidence {
  readonly total: number;
  readonly fields: number | null;
  readonly basis: "poisson" | "between-fields";
  readonly lower: number;
  readonly upper: number;
  /** Standard uncertainty of the total: √c, or √n·s when the basis is the scatter between fields. */
  readonly standard: number;
  /** n − 1 when the basis is the scatter between n fields; null (infinite) for the total count. */
  readonly degreesOfFreedom: number | null;
  readonly level: number;
  readonly dispersion: DispersionResult | null;
  /** True when the interval of the total count alone would mislead and must not be shown. */
  readonly poissonSuppressed: boolean;
  /** Objects that none counted may stand for, 95 % one-sided, where not 2.996. */
  readonly noneCounted?: number;
  /** Why this interval, for a person. */
  readonly reason: string;
}

/**
 * Evidence of a total without its fields: Garwood's limits, with the caution that clustering cannot be seen.
 * @throws InputError when the count is negative or has more than three decimals
 */
export function evidenceOfTotal(total: number, level = 0.95): CountEvidence {
  const { lower, upper } = garwoodInterval(total, level);
  return {
    total,
    fields: null,
    basis: "poisson",
    lower,
    upper,
    standard: Math.sqrt(total),
    degreesOfFreedom: null,
    level,
    dispersion: null,
    poissonSuppressed: false,
    reason: "From the total count alone: clustering between fields cannot be seen and would widen it.",
  };
}

function fromScatter(
  before: CountEvidence,
  between: BetweenFieldInterval,
  fields: number,
  reason: string,
): CountEvidence {
  return {
    ...before,
    basis: "between-fields",
    lower: between.lower * fields,
    upper: between.upper * fields,
    standard: between.standardError * fields,
    degreesOfFreedom: fields - 1,
    reason,
  };
}

/** Each limit the wider of the two; where the scatter reaches down to nothing, the lower one is that of the count. */
function widerOf(
  exact: CountEvidence,
  { lower, upper }: CountEvidence,
): Pick<CountEvidence, "lower" | "upper"> {
  return {
    lower: lower > 0 ? Math.min(lower, exact.lower) : exact.lower,
    upper: Math.max(upper, exact.upper),
  };
}

/** The limits of today where the fields differ more than Poisson; as they were by an older rule, or where they do not. */
function withSkew(evidence: CountEvidence, between: BetweenFieldInterval, rule: CountRule): CountEvidence {
  const { dispersion, total, fields } = evidence;
  if (rule !== "skewed-limits" || fields === null || !((dispersion?.ratio ?? 0) > 1)) return evidence;
  return { ...evidence, ...skewedLimits(total, fields, between.halfWidth * fields, evidence) };
}

/**
 * Evidence of field counts. Where the dispersion test finds clusters: the scatter between fields, t of n − 1 degrees of
 * freedom, and the interval of the total count is suppressed. Where it is silent: the one of the two that gives the larger
 * half-width (t·s·√n or z·√c), with limits that hold both, because a few fields seldom show that they cluster. Fields that
 * differ more than Poisson have the limits of `skewedLimits`.
 * @throws InputError for an empty list
 */
export function evidenceOfFields(
  counts: readonly number[],
  level = 0.95,
  rule: CountRule = COUNT_RULE_OF_TODAY,
): CountEvidence {
  requireFields(counts, 1);
  const fields = counts.length;
  const total = sumOfObjects(counts);
  if (fields === 1) return { ...evidenceOfTotal(total, level), fields };
  const dispersion = dispersionTest(counts, level);
  const exact = { ...evidenceOfTotal(total, level), fields, dispersion };
  const between = betweenFieldInterval(counts, level);
  if (dispersion.verdict === "clustered") {
    const reason = `From the scatter between fields. ${dispersion.meaning}`;
    const byScatter = { ...fromScatter(exact, between, fields, reason), poissonSuppressed: true };
    return withSkew(byScatter, between, rule);
  }
  const byCount = { ...exact, reason: `From the total count. ${dispersion.meaning}` };
  if (rule === "clustered-only" || total === 0) return byCount;
  const reason = `From the scatter between fields, which gives the larger uncertainty. ${dispersion.meaning}`;
  const byScatter = fromScatter(exact, between, fields, reason);
  const countHalfWidth = normalQuantile(1 - (1 - level) / 2) * exact.standard;
  const larger = between.halfWidth * fields > countHalfWidth ? byScatter : byCount;
  return withSkew({ ...larger, ...widerOf(exact, byScatter) }, between, rule);
}
