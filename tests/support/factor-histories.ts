import { decimal } from "#core/quantity/decimal.ts";
import type { HistoryFactor } from "#core/trends/history-factor.ts";

export interface HistoryOptions {
  /** Days between calibrations; 30 otherwise. */
  readonly every?: number;
  readonly firstDay?: number;
  /** u of one calibration, all of it fresh each time unless `common` says otherwise. */
  readonly u?: string;
  readonly common?: string;
  readonly reference?: string;
}

/** A history of factors at even intervals with one budget; invented inputs. */
export function historyOf(
  values: readonly (string | number)[],
  { every = 30, firstDay = 20_000, u = "0.01", common = "0", reference = "SM 1, C-1" }: HistoryOptions = {},
): HistoryFactor[] {
  const whole = decimal(u).pow(2).plus(decimal(common).pow(2)).sqrt();
  return values.map((value, at) => ({
    day: decimal(firstDay + at * every),
    value: decimal(value),
    standardUncertainty: whole,
    expandedUncertainty: whole.times(2),
    commonUncertainty: decimal(common),
    occasionUncertainty: decimal(u),
    reference,
    withdrawn: false,
  }));
}
