import { type Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { InputError, requirePositive } from "../quantity/input-error.ts";
import { requireSample, requireWhole } from "./sample.ts";

/** A diameter and how much it counts: 1 for a single particle, the class count for a class midpoint. */
export interface WeightedDiameter {
  readonly diameter: Decimal;
  readonly count: Decimal;
}

/** Each measured diameter counted once. @throws InputError when the list is empty or a diameter is not positive */
export function countedOnce(diameters: readonly Decimal[]): WeightedDiameter[] {
  requireSample("diameters", diameters, 1);
  return diameters.map((diameter, index) => ({
    diameter: requirePositive(`diameters.${index}`, diameter),
    count: decimal(1),
  }));
}

/** Σ count·d^k. */
export function powerSum(particles: readonly WeightedDiameter[], k: number): Decimal {
  return particles.reduce((sum, { diameter, count }) => sum.plus(count.times(diameter.pow(k))), ZERO);
}

/**
 * Moment-ratio mean D[p,q] = (Σd^p/Σd^q)^(1/(p−q)), in the unit of the diameters (ISO 9276-2:2014, moment-ratio
 * notation). D[1,0]: arithmetic; D[2,0]: of surface; D[3,0]: of volume; D[3,2]: Sauter; D[4,3]: volume-weighted.
 * It takes every particle for a sphere of its measured diameter.
 * @throws InputError when p and q are not whole with p > q ≥ 0, or all counts are zero
 */
export function momentMean(particles: readonly WeightedDiameter[], p: number, q: number): Decimal {
  requireWhole("q", q, 0);
  requireWhole("p", p, 0);
  if (p <= q) throw new InputError("p", "must be greater than q");
  const below = powerSum(particles, q);
  if (below.isZero()) throw new InputError("particles", "must hold at least one particle");
  const ratio = powerSum(particles, p).div(below);
  const order = p - q;
  if (order === 1) return ratio;
  if (order === 2) return ratio.sqrt();
  return order === 3 ? ratio.cbrt() : ratio.pow(decimal(1).div(order));
}

/**
 * Moment mean of a log-normal number distribution: D[p,q] = CMD·exp(½(p + q)·ln²GSD) (Hatch and Choate 1929,
 * J. Franklin Institute 207:369).
 * @param median count median diameter CMD
 * @param deviation geometric standard deviation GSD, 1 or more
 */
export function logNormalMomentMean(median: Decimal, deviation: Decimal, p: number, q: number): Decimal {
  requirePositive("median", median);
  if (deviation.lessThan(1)) throw new InputError("deviation", "must be 1 or more");
  const squared = deviation.ln().pow(2);
  return median.times(
    squared
      .times(p + q)
      .div(2)
      .exp(),
  );
}

/**
 * Diameter below which a share of Σd^weight of a log-normal distribution lies: CMD·exp(weight·ln²GSD + z·ln GSD), from
 * the same source; weight 3 gives percentiles by volume.
 * @param z standard normal quantile of the share, 0 for the median
 */
export function logNormalPercentile(median: Decimal, deviation: Decimal, weight: number, z: number): Decimal {
  requirePositive("median", median);
  if (deviation.lessThan(1)) throw new InputError("deviation", "must be 1 or more");
  const log = deviation.ln();
  return median.times(log.pow(2).times(weight).plus(log.times(z)).exp());
}
