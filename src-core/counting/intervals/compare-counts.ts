import { chiSquaredUpperP, normalCdf } from "../../statistics/distributions.ts";
import { requirePositiveNumber, requireWholeCount } from "./count-checks.ts";
import { type CountedExposure, exactBinomialP } from "./poisson-rate.ts";

export interface CountComparison {
  /** (b − a)/√(a + b) for equal exposures; positive when the second rate is larger. Null when nothing was counted. */
  readonly z: number | null;
  /** z², one degree of freedom. */
  readonly chiSquared: number | null;
  /** Two-sided p of z, p of χ² (the same number by another road) and the exact conditional p. */
  readonly normalP: number;
  readonly chiSquaredP: number;
  readonly exactP: number;
  /** True when the exact p is at or below 1 − level. */
  readonly differs: boolean;
}

/**
 * Are two counts compatible with one rate? Given the total n, the second count has mean n·share and variance
 * n·share·(1 − share); for equal exposures this is (b − a)/√(a + b). Valid for objects spread at random.
 * @throws InputError when a count is not whole or an exposure is not greater than zero
 */
export function compareCounts(
  first: CountedExposure,
  second: CountedExposure,
  level = 0.95,
): CountComparison {
  requireWholeCount("first.count", first.count);
  requireWholeCount("second.count", second.count);
  requirePositiveNumber("first.exposure", first.exposure);
  requirePositiveNumber("second.exposure", second.exposure);
  const total = first.count + second.count;
  if (total === 0) {
    return { z: null, chiSquared: null, normalP: 1, chiSquaredP: 1, exactP: 1, differs: false };
  }
  const share = second.exposure / (first.exposure + second.exposure);
  const z = (second.count - total * share) / Math.sqrt(total * share * (1 - share));
  const exactP = exactBinomialP(second.count, total, share);
  return {
    z,
    chiSquared: z * z,
    normalP: 2 * normalCdf(-Math.abs(z)),
    chiSquaredP: chiSquaredUpperP(z * z, 1),
    exactP,
    differs: exactP <= 1 - level,
  };
}
