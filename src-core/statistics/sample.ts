import { type Decimal, decimal, sumOf, ZERO } from "../quantity/decimal.ts";
import { InputError, requireCount, requireFinite } from "../quantity/input-error.ts";

/** @throws InputError naming `field` when there are fewer than `least` values, or `field.i` when one is not finite */
export function requireSample(field: string, values: readonly Decimal[], least: number): void {
  requireCount(field, values, least);
  values.forEach((value, index) => {
    requireFinite(`${field}.${index}`, value);
  });
}

/** @throws InputError when the level of confidence is not inside (0, 1) */
export function requireLevel(level: number): void {
  if (!(level > 0 && level < 1)) throw new InputError("level", "must be greater than 0 and less than 1");
}

/** @throws InputError when the number is not whole or is below `least` */
export function requireWhole(field: string, value: number, least: number): void {
  if (!Number.isSafeInteger(value) || value < least) {
    throw new InputError(field, `must be a whole number, ${least} or more`);
  }
}

/** The member at an index that is known to exist; a wrong index is a fault of the program, not of the input. */
export function memberAt<T>(values: readonly T[], index: number): T {
  const value = values[index];
  if (value === undefined) throw new RangeError(`no member ${index} in a list of ${values.length}`);
  return value;
}

/** Arithmetic mean Σx/n. @throws InputError when the list is empty */
export function mean(values: readonly Decimal[]): Decimal {
  requireSample("values", values, 1);
  return sumOf(values).div(values.length);
}

/**
 * Sum of squared deviations Σ(x − x̄)², in two passes: the one-pass formula Σx² − nx̄² loses every digit on samples
 * such as NIST StRD NumAcc4.
 */
export function sumOfSquaredDeviations(values: readonly Decimal[]): Decimal {
  const centre = mean(values);
  return values.reduce((sum, value) => {
    const deviation = value.minus(centre);
    return sum.plus(deviation.times(deviation));
  }, ZERO);
}

/** Experimental variance with n − 1 (JCGM 100:2008 4.2.2). @throws InputError for fewer than two values */
export function variance(values: readonly Decimal[]): Decimal {
  requireSample("values", values, 2);
  return sumOfSquaredDeviations(values).div(values.length - 1);
}

/** Experimental standard deviation with n − 1 (JCGM 100:2008 4.2.2). @throws InputError for fewer than two values */
export function standardDeviation(values: readonly Decimal[]): Decimal {
  return variance(values).sqrt();
}

/** The values in rising order; the list given is left alone. */
export function sorted(values: readonly Decimal[]): Decimal[] {
  return [...values].sort((a, b) => a.cmp(b));
}

/** Median: the middle value, or the mean of the two middle ones. @throws InputError when the list is empty */
export function median(values: readonly Decimal[]): Decimal {
  requireSample("values", values, 1);
  const rising = sorted(values);
  const half = Math.floor(rising.length / 2);
  const upper = memberAt(rising, half);
  return rising.length % 2 === 1 ? upper : upper.plus(memberAt(rising, half - 1)).div(2);
}

/** Makes a sample estimate of σ out of a median absolute deviation of normal data: 1/Φ⁻¹(0.75), as usually rounded. */
export const NORMAL_MAD_FACTOR: Decimal = decimal("1.4826");

/** Median absolute deviation from the median, unscaled. */
export function medianAbsoluteDeviation(values: readonly Decimal[]): Decimal {
  const centre = median(values);
  return median(values.map((value) => value.minus(centre).abs()));
}
