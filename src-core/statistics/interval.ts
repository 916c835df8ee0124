import { type Decimal, decimal } from "../quantity/decimal.ts";
import { requireFinite, requireNotNegative } from "../quantity/input-error.ts";
import { chiSquaredQuantile, studentQuantile } from "./distributions.ts";
import { requireLevel, requireWhole } from "./sample.ts";

/** A closed interval, both ends in the unit of the value it belongs to. */
export interface Interval {
  readonly lower: Decimal;
  readonly upper: Decimal;
}

/** centre ± halfWidth. */
export function intervalAround(centre: Decimal, halfWidth: Decimal): Interval {
  return { lower: centre.minus(halfWidth), upper: centre.plus(halfWidth) };
}

/** True when the value lies inside or on an end. */
export function contains(interval: Interval, value: Decimal): boolean {
  return !value.lessThan(interval.lower) && !value.greaterThan(interval.upper);
}

/** Student's t for a two-sided interval at `level` (0.95: t₀.₉₇₅), as a decimal. */
export function twoSidedStudent(level: number, degrees: number): Decimal {
  requireLevel(level);
  return decimal(studentQuantile((1 + level) / 2, degrees));
}

/**
 * Interval of an estimate from its standard error: estimate ± t((1 + level)/2, ν)·SE. It covers sampling only, not what
 * is common to all values (a factor, an edge convention).
 * @param degrees ν, may be Infinity
 */
export function studentInterval(
  estimate: Decimal,
  standardError: Decimal,
  degrees: number,
  level: number,
): Interval {
  requireFinite("estimate", estimate);
  requireNotNegative("standardError", standardError);
  return intervalAround(estimate, standardError.times(twoSidedStudent(level, degrees)));
}

/** Interval of σ of a normal population from s and n: s·√((n − 1)/χ²) at both tails. */
export function deviationInterval(deviation: Decimal, n: number, level: number): Interval {
  requireNotNegative("deviation", deviation);
  requireWhole("n", n, 2);
  requireLevel(level);
  const at = (p: number) =>
    deviation.times(
      decimal(n - 1)
        .div(decimal(chiSquaredQuantile(p, n - 1)))
        .sqrt(),
    );
  return { lower: at((1 + level) / 2), upper: at((1 - level) / 2) };
}
