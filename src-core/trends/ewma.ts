import { type Decimal, ONE, TWO } from "../quantity/decimal.ts";
import { InputError, requireFinite, requireNotNegative } from "../quantity/input-error.ts";
import { type Interval, intervalAround } from "../statistics/interval.ts";
import { requireSample } from "../statistics/sample.ts";

export interface EwmaChart {
  /** The start value, then one value per observation. */
  readonly sequence: readonly Decimal[];
  /** Limits of a long series: target ± 3s·√(λ/(2 − λ)). */
  readonly limits: Interval;
  /** Places, from 0, of observations whose moving average lies beyond the limits. */
  readonly outside: readonly number[];
}

/**
 * Exponentially weighted moving average zₜ = λ·yₜ + (1 − λ)·zₜ₋₁ (NIST/SEMATECH e-Handbook 6.3.2.4): sees small
 * persistent shifts that single values hide.
 * @param target z₀ and centre line
 * @param deviation standard deviation of single values, from history
 * @param lambda weight of the newest value, 0 < λ ≤ 1; 0.2 to 0.3 is usual
 */
export function ewma(
  values: readonly Decimal[],
  target: Decimal,
  deviation: Decimal,
  lambda: Decimal,
): EwmaChart {
  requireSample("values", values, 1);
  requireFinite("target", target);
  requireNotNegative("deviation", deviation);
  requireFinite("lambda", lambda);
  if (!lambda.greaterThan(0) || lambda.greaterThan(1)) {
    throw new InputError("lambda", "must be greater than 0 and at most 1");
  }
  const limits = intervalAround(target, deviation.times(3).times(lambda.div(TWO.minus(lambda)).sqrt()));
  const sequence = [target];
  const outside: number[] = [];
  let level = target;
  for (const [index, value] of values.entries()) {
    level = lambda.times(value).plus(ONE.minus(lambda).times(level));
    sequence.push(level);
    if (level.greaterThan(limits.upper) || level.lessThan(limits.lower)) outside.push(index);
  }
  return { sequence, limits, outside };
}
