import { type Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";
import { chiSquaredUpperP } from "./distributions.ts";
import { memberAt, requireSample, requireWhole } from "./sample.ts";

export interface DigitPreference {
  /** How often each final digit 0 … 9 occurs. */
  readonly counts: readonly number[];
  /** Expected of each digit that can occur. */
  readonly expected: Decimal;
  readonly chiSquared: Decimal;
  readonly degrees: number;
  readonly p: number;
  /** False when fewer than five are expected of a digit: χ² then is only a rough guide (common practice, no source). */
  readonly reliable: boolean;
  /** Digits read more often than expected by more than two standard deviations, most frequent first. */
  readonly preferred: readonly number[];
}

const ALL_DIGITS = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9] as const;

/**
 * Whether a reader favours some final digits (a scale read to tenths, but always .0 or .5): χ² of the counts against
 * equal ones, one degree of freedom fewer than digits that can occur (χ² goodness of fit, Pearson 1900; its use on
 * reticle readings: common practice, no source).
 * @param readings divisions as typed
 * @param places place of the final digit after the point, 1 for tenths
 * @param possible digits that can occur, e.g. 0, 2, 4, 6, 8 when reading to fifths
 * @throws InputError for fewer than two readings, a reading finer than the place, or a digit that cannot occur
 */
export function digitPreference(
  readings: readonly Decimal[],
  places: number,
  possible: readonly number[] = ALL_DIGITS,
): DigitPreference {
  requireSample("readings", readings, 2);
  requireWhole("places", places, 0);
  const able = new Set(possible);
  if (able.size < 2) throw new InputError("possible", "needs at least 2 digits");
  for (const digit of able) {
    if (!Number.isInteger(digit) || digit < 0 || digit > 9)
      throw new InputError("possible", "must be digits 0 to 9");
  }
  const counts = new Array<number>(10).fill(0);
  const scale = decimal(10).pow(places);
  readings.forEach((reading, index) => {
    const whole = reading.abs().times(scale);
    if (!whole.isInteger())
      throw new InputError(`readings.${index}`, `has more than ${places} decimal places`);
    const digit = whole.mod(10).toNumber();
    if (!able.has(digit))
      throw new InputError(`readings.${index}`, `ends in ${digit}, which cannot occur here`);
    counts[digit] = memberAt(counts, digit) + 1;
  });
  const expected = decimal(readings.length).div(able.size);
  const chiSquared = [...able].reduce(
    (sum, digit) => sum.plus(expected.minus(memberAt(counts, digit)).pow(2).div(expected)),
    ZERO,
  );
  const degrees = able.size - 1;
  const bound = expected.plus(expected.times(decimal(degrees).div(able.size)).sqrt().times(2));
  return {
    counts,
    expected,
    chiSquared,
    degrees,
    p: chiSquaredUpperP(chiSquared.toNumber(), degrees),
    reliable: !expected.lessThan(5),
    preferred: [...able]
      .filter((digit) => bound.lessThan(memberAt(counts, digit)))
      .sort((a, b) => memberAt(counts, b) - memberAt(counts, a)),
  };
}
