import fc from "fast-check";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";

/** Readings as they are typed: whole tenths, from −1000 to 1000. */
export const reading: fc.Arbitrary<Decimal> = fc
  .integer({ min: -10_000, max: 10_000 })
  .map((tenths) => decimal(tenths).div(10));

/** Lengths in µm with two decimals, greater than zero. */
export const length: fc.Arbitrary<Decimal> = fc
  .integer({ min: 1, max: 50_000 })
  .map((hundredths) => decimal(hundredths).div(100));

export const readings = (minLength: number, maxLength = 40): fc.Arbitrary<Decimal[]> =>
  fc.array(reading, { minLength, maxLength });

export const lengths = (minLength: number, maxLength = 40): fc.Arbitrary<Decimal[]> =>
  fc.array(length, { minLength, maxLength });

/** True when two decimals differ by at most `relative` of the larger, or are both that small. */
export function nearly(a: Decimal, b: Decimal, relative = "1e-18"): boolean {
  const scale = a.abs().greaterThan(b.abs()) ? a.abs() : b.abs();
  return a.minus(b).abs().lessThanOrEqualTo(scale.plus(1).times(relative));
}
