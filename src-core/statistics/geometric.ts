import { type Decimal, decimal } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";
import { studentQuantile } from "./distributions.ts";
import type { Interval } from "./interval.ts";
import { requireLevel, requireSample } from "./sample.ts";

export interface GeometricSummary {
  /** exp(mean ln x), unit of the values. */
  readonly mean: Decimal;
  /** exp(s of ln x with n − 1), a pure number of 1 or more; null for a single value. */
  readonly deviation: Decimal | null;
  /** exp(mean ln x ± t·s/√n); null for a single value. */
  readonly interval: Interval | null;
}

/**
 * Geometric mean, geometric standard deviation and interval from the moments of ln x. Logarithms are binary floats:
 * their error of 1e-16 is far below any printed digit, and 100,000 decimal logarithms would take seconds.
 */
export function geometricFromLogs(
  n: number,
  meanLog: number,
  deviationLog: number | null,
  level: number,
): GeometricSummary {
  requireLevel(level);
  const value = decimal(Math.exp(meanLog));
  if (deviationLog === null) return { mean: value, deviation: null, interval: null };
  const half = (studentQuantile((1 + level) / 2, n - 1) * deviationLog) / Math.sqrt(n);
  return {
    mean: value,
    deviation: decimal(Math.exp(deviationLog)),
    interval: { lower: decimal(Math.exp(meanLog - half)), upper: decimal(Math.exp(meanLog + half)) },
  };
}

/** @throws InputError when the list is empty or a value is not greater than zero */
export function geometricSummary(values: readonly Decimal[], level: number): GeometricSummary {
  requireSample("values", values, 1);
  const logs = values.map((value, index) => Math.log(requirePositive(`values.${index}`, value).toNumber()));
  const meanLog = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  const squares = logs.reduce((sum, log) => sum + (log - meanLog) ** 2, 0);
  const deviationLog = logs.length < 2 ? null : Math.sqrt(squares / (logs.length - 1));
  return geometricFromLogs(logs.length, meanLog, deviationLog, level);
}

/**
 * Harmonic mean n/Σ(1/x), in binary floats for the same reason as above.
 * @throws InputError when the list is empty or a value is not greater than zero
 */
export function harmonicMean(values: readonly Decimal[]): Decimal {
  requireSample("values", values, 1);
  const inverses = values.map((value, index) => 1 / requirePositive(`values.${index}`, value).toNumber());
  return decimal(values.length / inverses.reduce((sum, inverse) => sum + inverse, 0));
}
