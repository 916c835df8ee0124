import { type Decimal, decimal, PI, TWO } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";

/**
 * Which d2 turns a mean moving range of two into a standard deviation. `table`: 1.128 and D4 = 3.267, as printed in
 * tables (ASTM E2587, ISO 7870-2) and used by published charts; `exact`: 2/√π and 1 + 3·d3/d2. A chart names the one
 * it used: the limits differ in the fourth digit.
 */
export const RANGE_CONSTANTS = ["table", "exact"] as const;
export type RangeConstants = (typeof RANGE_CONSTANTS)[number];

export interface MovingRangeConstants {
  /** Mean range of two over σ. */
  readonly d2: Decimal;
  /** Upper limit of a moving range over the mean range. */
  readonly d4: Decimal;
}

const EXACT_D2 = TWO.div(PI.sqrt());
const EXACT_D3 = TWO.minus(decimal(4).div(PI)).sqrt();

/** d3 of ranges of two, √(2 − 4/π). */
export const D3_OF_TWO: Decimal = EXACT_D3;

export const MOVING_RANGE_CONSTANTS: { readonly [C in RangeConstants]: MovingRangeConstants } = {
  table: { d2: decimal("1.128"), d4: decimal("3.267") },
  exact: { d2: EXACT_D2, d4: EXACT_D3.times(3).div(EXACT_D2).plus(1) },
};

/** Median range of two over σ: √2·Φ⁻¹(0.75), to 20 digits (ASTM E2587 prints 0.954). */
export const MEDIAN_RANGE_DIVISOR: Decimal = decimal("0.95387255240893984");

/**
 * c4 = √(2/(n−1))·Γ(n/2)/Γ((n−1)/2): mean of s over σ in normal samples of n (ASTM E2587; ISO 7870-2). Worked out without
 * a gamma function from c4(2) = √(2/π) and c4(n)·c4(n + 1) = √((n − 1)/n).
 * @throws InputError when n is not a whole number from 2 to 100,000
 */
export function c4(n: number): Decimal {
  if (!Number.isSafeInteger(n) || n < 2 || n > 100_000) {
    throw new InputError("n", "must be a whole number from 2 to 100,000");
  }
  let value = TWO.div(PI).sqrt();
  for (let size = 2; size < n; size += 1) {
    value = decimal(size - 1)
      .div(size)
      .sqrt()
      .div(value);
  }
  return value;
}
