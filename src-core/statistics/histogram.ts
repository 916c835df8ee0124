import { type Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";
import type { WeightedDiameter } from "./moment-mean.ts";
import { type Percentile, requireShare } from "./percentile.ts";
import { memberAt, requireSample } from "./sample.ts";
import { PARTICLE_WEIGHTS, type ParticleWeight } from "./weighted-percentile.ts";

/** One class [lower, upper): a value on a limit belongs to the class above it. */
export interface HistogramClass {
  readonly lower: Decimal;
  readonly upper: Decimal;
  /** Arithmetic midpoint, the diameter of its particles in the moments. */
  readonly midpoint: Decimal;
  readonly count: number;
}

export interface Histogram {
  readonly classes: readonly HistogramClass[];
  /** Values in the classes. */
  readonly total: number;
  /** Values under the first and at or above the last limit: they are in no class and must be shown. */
  readonly below: number;
  readonly above: number;
}

/** Index of the class of a value, −1 below the first limit, `limits.length − 1` at or above the last. */
function classOf(limits: readonly Decimal[], value: Decimal): number {
  let low = 0;
  let high = limits.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (memberAt(limits, middle).greaterThan(value)) high = middle;
    else low = middle + 1;
  }
  return low - 1;
}

/**
 * Counts values into classes. Limits are compared as decimals, so a reading of 12.4 meets a limit of 12.4 exactly.
 * @throws InputError for fewer than two limits, or limits that do not rise
 */
export function histogram(values: readonly Decimal[], limits: readonly Decimal[]): Histogram {
  requireSample("values", values, 0);
  requireSample("limits", limits, 2);
  limits.forEach((limit, index) => {
    if (index > 0 && !limit.greaterThan(memberAt(limits, index - 1))) {
      throw new InputError(`limits.${index}`, "must be greater than the limit before it");
    }
  });
  const counts = new Array<number>(limits.length - 1).fill(0);
  let below = 0;
  let above = 0;
  for (const value of values) {
    const at = classOf(limits, value);
    if (at < 0) below += 1;
    else if (at >= counts.length) above += 1;
    else counts[at] = memberAt(counts, at) + 1;
  }
  const classes = counts.map((count, index) => {
    const lower = memberAt(limits, index);
    const upper = memberAt(limits, index + 1);
    return { lower, upper, midpoint: lower.plus(upper).div(2), count };
  });
  return { classes, total: values.length - below - above, below, above };
}

/** The classes as particles of their midpoint, for `momentMean`: Σd^k becomes Σnᵢ·x̄ᵢ^k. */
export function classParticles(counted: Histogram): WeightedDiameter[] {
  return counted.classes.map(({ midpoint, count }) => ({ diameter: midpoint, count: decimal(count) }));
}

/** Mean and standard deviation (n − 1) of counted classes, every value taken at its class midpoint. */
export function classMoments(counted: Histogram): { readonly mean: Decimal; readonly deviation: Decimal } {
  if (counted.total < 2) throw new InputError("histogram", "needs at least 2 values in its classes");
  const mean = counted.classes
    .reduce((sum, { midpoint, count }) => sum.plus(midpoint.times(count)), ZERO)
    .div(counted.total);
  const squares = counted.classes.reduce(
    (sum, { midpoint, count }) => sum.plus(midpoint.minus(mean).pow(2).times(count)),
    ZERO,
  );
  return { mean, deviation: squares.div(counted.total - 1).sqrt() };
}

/**
 * Cumulative share of number, surface or volume at the upper limit of each class (ISO 9276-1:1998, Q₀, Q₂, Q₃).
 * @throws InputError when no value lies in a class
 */
export function cumulativeShares(counted: Histogram, weight: ParticleWeight): Decimal[] {
  if (counted.total === 0) throw new InputError("histogram", "has no value in its classes");
  if (weight !== "number" && memberAt(counted.classes, 0).lower.lessThan(0)) {
    throw new InputError("histogram", "must not have limits below zero for shares of surface or volume");
  }
  let sum = ZERO;
  const sums = counted.classes.map(({ midpoint, count }) => {
    sum = sum.plus(midpoint.pow(PARTICLE_WEIGHTS[weight]).times(count));
    return sum;
  });
  return sums.map((reached) => reached.div(sum));
}

/** Percentile by linear interpolation of the cumulative share between class limits (ISO 9276-1:1998). */
export function histogramPercentile(counted: Histogram, weight: ParticleWeight, p: Decimal): Percentile {
  requireShare("p", p);
  const shares = cumulativeShares(counted, weight);
  const at = shares.findIndex((share) => !share.lessThan(p) && share.greaterThan(0));
  const { lower, upper } = memberAt(counted.classes, at);
  const before = at === 0 ? ZERO : memberAt(shares, at - 1);
  const part = p.minus(before).div(memberAt(shares, at).minus(before));
  return { value: lower.plus(part.times(upper.minus(lower))), clamped: false };
}
