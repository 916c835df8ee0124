import { type Decimal, decimal } from "../quantity/decimal.ts";
import { type DistributionShape, distributionShape, lagOneAutocorrelation } from "./distribution-shape.ts";
import { type GeometricSummary, geometricSummary, harmonicMean } from "./geometric.ts";
import { deviationInterval, type Interval, studentInterval } from "./interval.ts";
import {
  median,
  medianAbsoluteDeviation,
  memberAt,
  requireLevel,
  requireSample,
  sorted,
  sumOfSquaredDeviations,
} from "./sample.ts";

/** What a live panel shows. Lengths in the unit of the values; spread is null for a single value. */
export interface BasicSummary {
  readonly n: number;
  readonly sum: Decimal;
  readonly mean: Decimal;
  /** Divisor n − 1. */
  readonly variance: Decimal | null;
  readonly deviation: Decimal | null;
  /** s/|x̄| as a pure number (0.05 is 5 %); null when the mean is zero. */
  readonly coefficientOfVariation: Decimal | null;
  /** s/√n. */
  readonly standardError: Decimal | null;
  /** x̄ ± t·s/√n: covers sampling only. */
  readonly meanInterval: Interval | null;
  /** Interval of σ from χ²; null when s is zero. */
  readonly deviationInterval: Interval | null;
  readonly minimum: Decimal;
  readonly maximum: Decimal;
  readonly median: Decimal;
  /** Null unless every value is greater than zero. */
  readonly geometric: GeometricSummary | null;
}

export interface Summary extends BasicSummary {
  readonly medianAbsoluteDeviation: Decimal;
  /** Null unless every value is greater than zero. */
  readonly harmonicMean: Decimal | null;
  readonly shape: DistributionShape | null;
  readonly lagOneAutocorrelation: Decimal | null;
}

/** The spread fields of a summary from n, the mean and Σ(x − x̄)². */
export function spreadOf(
  n: number,
  mean: Decimal,
  squares: Decimal,
  level: number,
): Pick<
  BasicSummary,
  "variance" | "deviation" | "coefficientOfVariation" | "standardError" | "meanInterval" | "deviationInterval"
> {
  if (n < 2) {
    return {
      variance: null,
      deviation: null,
      coefficientOfVariation: null,
      standardError: null,
      meanInterval: null,
      deviationInterval: null,
    };
  }
  const variance = squares.div(n - 1);
  const deviation = variance.sqrt();
  const standardError = deviation.div(decimal(n).sqrt());
  return {
    variance,
    deviation,
    coefficientOfVariation: mean.isZero() ? null : deviation.div(mean.abs()),
    standardError,
    meanInterval: studentInterval(mean, standardError, n - 1, level),
    deviationInterval: deviation.isZero() ? null : deviationInterval(deviation, n, level),
  };
}

/**
 * Summary of a sample at a level of confidence (0.95 by default), computed from scratch; `RunningSummary` keeps the
 * basic part up to date row by row.
 * @throws InputError when the sample is empty, a value is not finite or the level is not inside (0, 1)
 */
export function summarise(values: readonly Decimal[], level = 0.95): Summary {
  requireSample("values", values, 1);
  requireLevel(level);
  const n = values.length;
  const sum = values.reduce((total, value) => total.plus(value));
  const mean = sum.div(n);
  const rising = sorted(values);
  const minimum = memberAt(rising, 0);
  const positive = minimum.greaterThan(0);
  return {
    n,
    sum,
    mean,
    ...spreadOf(n, mean, sumOfSquaredDeviations(values), level),
    minimum,
    maximum: memberAt(rising, n - 1),
    median: median(rising),
    geometric: positive ? geometricSummary(values, level) : null,
    medianAbsoluteDeviation: medianAbsoluteDeviation(rising),
    harmonicMean: positive ? harmonicMean(values) : null,
    shape: n < 2 ? null : distributionShape(values),
    lagOneAutocorrelation: n < 2 ? null : lagOneAutocorrelation(values),
  };
}
