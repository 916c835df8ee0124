import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";
import { studentQuantile } from "./distributions.ts";
import { furthest } from "./grubbs.ts";
import { memberAt, requireLevel, requireSample, requireWhole, standardDeviation } from "./sample.ts";

export interface EsdStep {
  /** Place of the value in the sample, from 0. */
  readonly index: number;
  readonly value: Decimal;
  /** Rᵢ: distance of the value from the mean in standard deviations, after the earlier suspects were set aside. */
  readonly statistic: Decimal;
  /** λᵢ. */
  readonly critical: Decimal;
}

export interface EsdResult {
  readonly steps: readonly EsdStep[];
  /** The largest i with Rᵢ > λᵢ: how many of the suspects, from the first, are flagged. Nothing is removed. */
  readonly outliers: number;
  readonly flagged: readonly number[];
}

/** λᵢ of the generalized ESD test for the i-th suspect (from 1) in a sample of n. */
export function esdCritical(n: number, i: number, alpha: number): Decimal {
  const rest = n - i;
  const t = -studentQuantile(alpha / (2 * (rest + 1)), rest - 1);
  return decimal((rest * t) / Math.sqrt((rest - 1 + t * t) * (rest + 1)));
}

/**
 * Generalized extreme Studentized deviate test for up to `most` outliers (Rosner 1983, Technometrics 25:165;
 * NIST/SEMATECH e-Handbook 1.3.5.17.3). Unlike a repeated Grubbs test it sees outliers that mask each other. The
 * critical values are good from about 25 values on.
 * @throws InputError for fewer than three values, or `most` not between 1 and n − 2
 */
export function generalizedEsd(values: readonly Decimal[], most: number, alpha = 0.05): EsdResult {
  requireSample("values", values, 3);
  requireWhole("most", most, 1);
  requireLevel(alpha);
  const n = values.length;
  if (most > n - 2) throw new InputError("most", `must be at most ${n - 2} for ${n} values`);
  let left = values.map((value, index) => ({ value, index }));
  const steps: EsdStep[] = [];
  for (let i = 1; i <= most; i += 1) {
    const rest = left.map(({ value }) => value);
    const deviation = standardDeviation(rest);
    const { index, distance } = furthest(rest, "either");
    const suspect = memberAt(left, index);
    const statistic = deviation.isZero() ? deviation : distance.div(deviation);
    steps.push({ ...suspect, statistic, critical: esdCritical(n, i, alpha) });
    left = left.filter((entry) => entry !== suspect);
  }
  const outliers = steps.findLastIndex(({ statistic, critical }) => statistic.greaterThan(critical)) + 1;
  return { steps, outliers, flagged: steps.slice(0, outliers).map(({ index }) => index) };
}
