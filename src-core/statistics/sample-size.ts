import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requirePositive } from "../quantity/input-error.ts";
import { normalQuantile, studentQuantile } from "./distributions.ts";
import { requireLevel, requireWhole } from "./sample.ts";

/** More specimens than anybody reads at an eyepiece: a wish beyond it is refused rather than worked out. */
const MOST = 100_000_000;

export interface SampleSize {
  /** (z·CV/E)², not rounded. */
  readonly normal: Decimal;
  readonly normalRounded: number;
  /** Smallest n with t(n − 1)·CV/√n ≤ E: what is needed when s comes from the same sample. */
  readonly student: number;
}

/**
 * How many specimens give a mean with the half-width wanted.
 * @param spread standard deviation, absolute or relative (CV)
 * @param halfWidth wanted half-width, in the same unit as `spread`
 * @param z normal quantile; 1.96 as tables print it, or from `level` when left out
 * @throws InputError when an argument is not positive or the number would exceed 1e8
 */
export function sampleSize(spread: Decimal, halfWidth: Decimal, level = 0.95, z?: Decimal): SampleSize {
  requirePositive("spread", spread);
  requirePositive("halfWidth", halfWidth);
  requireLevel(level);
  const quantile = z ?? decimal(normalQuantile((1 + level) / 2));
  const normal = quantile.times(spread).div(halfWidth).pow(2);
  if (normal.greaterThan(MOST))
    throw new InputError("halfWidth", "asks for more than a hundred million specimens");
  const ratio = halfWidth.div(spread).toNumber();
  const reaches = (n: number) => studentQuantile((1 + level) / 2, n - 1) <= ratio * Math.sqrt(n);
  let low = 1;
  let high = Math.max(2, 2 * normal.ceil().toNumber());
  while (!reaches(high)) high *= 2;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (reaches(middle)) high = middle;
    else low = middle;
  }
  return { normal, normalRounded: normal.ceil().toNumber(), student: high };
}

/**
 * How many more specimens a sample needs until its mean is known to ± `wanted` (relative, 0.02 is 2 %), judging by its
 * own spread so far; 0 when it is there already.
 * @throws InputError for fewer than two values, a mean of zero, or a wish that is not positive
 */
export function specimensStillNeeded(
  n: number,
  mean: Decimal,
  deviation: Decimal,
  wanted: Decimal,
  level = 0.95,
): number {
  requireWhole("n", n, 2);
  requirePositive("wanted", wanted);
  if (mean.isZero()) throw new InputError("mean", "must not be zero for a relative half-width");
  if (deviation.isZero()) return 0;
  const { student } = sampleSize(deviation.div(mean.abs()), wanted, level);
  return Math.max(0, student - n);
}
