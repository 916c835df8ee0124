import { Decimal as Base } from "decimal.js";

/**
 * The one configured decimal type of Linefall: 34 significant digits (as IEEE 754 decimal128), ties to even.
 *
 * Nothing else imports decimal.js, because the precision of a result follows the constructor of the left operand.
 * NaN and infinities can be made by this type but never leave a public function of src-core: see `input-error.ts`.
 */
export const Decimal = Base.clone({
  precision: 34,
  rounding: Base.ROUND_HALF_EVEN,
  toExpNeg: -40,
  toExpPos: 40,
});

/** A decimal number; immutable. */
export type Decimal = Base;

/** A decimal from text that a program wrote (a constant or a stored DecimalText), or from a whole number. */
export function decimal(value: string | number | Decimal): Decimal {
  return new Decimal(value);
}

export const ZERO: Decimal = new Decimal(0);
export const ONE: Decimal = new Decimal(1);
export const TWO: Decimal = new Decimal(2);

/** π to 40 digits. */
export const PI: Decimal = new Decimal("3.141592653589793238462643383279502884197");

/** Sum of a list; 0 for an empty one. */
export function sumOf(values: readonly Decimal[]): Decimal {
  return values.reduce((sum, value) => sum.plus(value), ZERO);
}

/** √(Σ x²): the combination of independent contributions, JCGM 100:2008 5.1.2. */
export function rootSumOfSquares(values: readonly Decimal[]): Decimal {
  return sumOf(values.map((value) => value.times(value))).sqrt();
}
