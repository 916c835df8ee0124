import { betweenFieldInterval } from "./between-field-interval.ts";
import { requireFields } from "./count-checks.ts";
import { type DispersionResult, dispersionTest } from "./dispersion-test.ts";
import { garwoodInterval } from "./poisson-interval.ts";

/** What a count says about the total it estimates, and on what ground. All values are objects in the counted portion. */
export interface CountEvidence {
  readonly total: number;
  readonly fields: number | null;
  readonly basis: "poisson" | "between-fields";
  readonly lower: number;
  readonly upper: number;
  /** Standard uncertainty of the total: √c, or √n·s when the basis is the scatter between fields. */
  readonly standard: number;
  readonly level: number;
  readonly dispersion: DispersionResult | null;
  /** True when the interval of the total count alone would mislead and must not be shown. */
  readonly poissonSuppressed: boolean;
  /** Why this interval, for a person. */
  readonly reason: string;
}

/**
 * Evidence of a total without its fields: Garwood's limits, with the caution that clustering cannot be seen.
 * @throws InputError when the count is negative or not a whole or half number
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
    level,
    dispersion: null,
    poissonSuppressed: false,
    reason: "From the total count alone: clustering between fields cannot be seen and would widen it.",
  };
}

/**
 * Evidence of field counts: Garwood's limits of the total while the dispersion test does not find clusters; when it
 * does, the interval from the scatter between fields, and the other is suppressed.
 * @throws InputError for an empty list
 */
export function evidenceOfFields(counts: readonly number[], level = 0.95): CountEvidence {
  requireFields(counts, 1);
  const total = counts.reduce((sum, count) => sum + count, 0);
  if (counts.length === 1) return { ...evidenceOfTotal(total, level), fields: 1 };
  const dispersion = dispersionTest(counts, level);
  if (dispersion.verdict !== "clustered") {
    const reason = `From the total count. ${dispersion.meaning}`;
    return { ...evidenceOfTotal(total, level), fields: counts.length, dispersion, reason };
  }
  const between = betweenFieldInterval(counts, level);
  return {
    total,
    fields: counts.length,
    basis: "between-fields",
    lower: between.lower * counts.length,
    upper: between.upper * counts.length,
    standard: between.standardError * counts.length,
    level,
    dispersion,
    poissonSuppressed: true,
    reason: `From the scatter between fields. ${dispersion.meaning}`,
  };
}
