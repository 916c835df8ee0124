import { Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";
import type { Interval } from "../statistics/interval.ts";
import { mean, requireSample } from "../statistics/sample.ts";

export interface CountChart {
  readonly centre: Decimal;
  /** c̄ ± 3√c̄, the lower one never below zero. */
  readonly limits: Interval;
  /** Places, from 0, of counts beyond the limits. */
  readonly outside: readonly number[];
}

/**
 * Chart of counts over equal areas or volumes: c̄ ± 3√c̄ (NIST/SEMATECH e-Handbook 6.3.3.1). Only for counts that follow
 * Poisson's law; clustered counts break the limits without anything being wrong.
 * @throws InputError when the list is empty or a count is negative or not whole
 */
export function countChart(counts: readonly Decimal[]): CountChart {
  requireSample("counts", counts, 1);
  counts.forEach((count, index) => {
    if (!count.isInteger() || count.lessThan(0)) {
      throw new InputError(`counts.${index}`, "must be a whole number, 0 or more");
    }
  });
  const centre = mean(counts);
  const half = decimal(3).times(centre.sqrt());
  const limits = { lower: Decimal.max(ZERO, centre.minus(half)), upper: centre.plus(half) };
  const outside = counts.flatMap((count, index) =>
    count.greaterThan(limits.upper) || count.lessThan(limits.lower) ? [index] : [],
  );
  return { centre, limits, outside };
}
