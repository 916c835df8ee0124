import { InputError } from "../../quantity/input-error.ts";
import { betaQuantile } from "../../statistics/distributions.ts";
import { requireLevel } from "./count-checks.ts";

/** Part of a sum, or a count beside it, as a fraction of the sum with its exact limits. */
export interface ShareOfSum {
  readonly proportion: number;
  readonly lower: number;
  readonly upper: number;
}

function requireCount(field: string, count: number): void {
  if (!(count >= 0 && count < Number.MAX_SAFE_INTEGER)) {
    throw new InputError(field, "must be a count: 0 or more");
  }
}

/** Clopper–Pearson limits of r in n by quantiles of the beta distribution. */
function binomialLimits(r: number, n: number, tail: number): readonly [number, number] {
  return [r === 0 ? 0 : betaQuantile(tail, r, n - r + 1), r >= n ? 1 : betaQuantile(1 - tail, r + 1, n - r)];
}

/**
 * Share of a sum for one of its parts, r of n: binomial, with exact limits by C. J. Clopper and E. S. Pearson,
 * Biometrika 26 (1934) 404, from memory. For counts with halves or pieces the beta quantiles run on between those of
 * whole counts.
 * @throws InputError when the sum is zero or smaller than its part
 */
export function shareInSum(part: number, sum: number, level = 0.95): ShareOfSum {
  requireCount("part", part);
  requireCount("sum", sum);
  if (sum === 0) throw new InputError("sum", "must be greater than zero: nothing of it was counted");
  if (part > sum) throw new InputError("part", "must not be more than the sum it belongs to");
  const [lower, upper] = binomialLimits(part, sum, (1 - requireLevel(level)) / 2);
  return { proportion: part / sum, lower, upper };
}

function odds(share: number): number {
  return share / (1 - share);
}

/**
 * What lies outside a sum as a fraction of it: the ratio of two counts. Given both together the first is binomial, so
 * the exact limits of its share become those of the ratio, p/(1 − p), as in `compareRates` (J. Przyborowski and
 * H. Wilenski, Biometrika 31 (1940) 313).
 * @throws InputError when the sum is zero
 */
export function shareBesideSum(beside: number, sum: number, level = 0.95): ShareOfSum {
  requireCount("beside", beside);
  requireCount("sum", sum);
  if (sum === 0) throw new InputError("sum", "must be greater than zero: nothing of it was counted");
  const [lower, upper] = binomialLimits(beside, beside + sum, (1 - requireLevel(level)) / 2);
  return { proportion: beside / sum, lower: odds(lower), upper: odds(upper) };
}
