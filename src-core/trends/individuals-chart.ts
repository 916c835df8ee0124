import type { Decimal } from "../quantity/decimal.ts";
import type { Interval } from "../statistics/interval.ts";
import { intervalAround } from "../statistics/interval.ts";
import { mean, median, memberAt, requireSample, standardDeviation } from "../statistics/sample.ts";
import { MEDIAN_RANGE_DIVISOR, MOVING_RANGE_CONSTANTS, type RangeConstants } from "./chart-constants.ts";

/** |xᵢ − xᵢ₋₁| of neighbours in time. @throws InputError for fewer than two values */
export function movingRanges(values: readonly Decimal[]): Decimal[] {
  requireSample("values", values, 2);
  return values.slice(1).map((value, index) => value.minus(memberAt(values, index)).abs());
}

export interface IndividualsChart {
  readonly centre: Decimal;
  readonly meanRange: Decimal;
  /** MR̄/d2. */
  readonly sigma: Decimal;
  /** centre ± 3σ. */
  readonly limits: Interval;
  /** D4·MR̄: a jump between neighbours beyond it is a signal of its own. */
  readonly rangeLimit: Decimal;
  /** σ from the median range, which one jump does not inflate. */
  readonly sigmaFromMedian: Decimal;
  readonly constants: RangeConstants;
}

/**
 * Individuals and moving-range chart: x̄ ± 3·MR̄/d2 (NIST/SEMATECH e-Handbook 6.3.2.2; ISO 7870-2). The values must be
 * in order of time and without a drift: a drifting series is charted by its residuals.
 * @throws InputError for fewer than two values
 */
export function individualsChart(
  values: readonly Decimal[],
  constants: RangeConstants = "table",
): IndividualsChart {
  const ranges = movingRanges(values);
  const { d2, d4 } = MOVING_RANGE_CONSTANTS[constants];
  const centre = mean(values);
  const meanRange = mean(ranges);
  const sigma = meanRange.div(d2);
  return {
    centre,
    meanRange,
    sigma,
    limits: intervalAround(centre, sigma.times(3)),
    rangeLimit: meanRange.times(d4),
    sigmaFromMedian: median(ranges).div(MEDIAN_RANGE_DIVISOR),
    constants,
  };
}

export interface DeviationLimits {
  readonly centre: Decimal;
  readonly deviation: Decimal;
  /** x̄ ± 2s. */
  readonly warning: Interval;
  /** x̄ ± 3s. */
  readonly action: Interval;
}

/**
 * Warning and action limits from the standard deviation of all values, x̄ ± 2s and x̄ ± 3s (ISO 7873). Simpler than the
 * moving range, and wider when the series wanders.
 */
export function deviationLimits(values: readonly Decimal[]): DeviationLimits {
  const centre = mean(values);
  const deviation = standardDeviation(values);
  return {
    centre,
    deviation,
    warning: intervalAround(centre, deviation.times(2)),
    action: intervalAround(centre, deviation.times(3)),
  };
}
