import { type Decimal, decimal } from "../quantity/decimal.ts";
import { roundToSignificant } from "../quantity/rounding.ts";

/** A relative change in words: sign, two significant digits, per cent (`+1.2 %`, `−0.035 %`). */
export function percentWords(relative: Decimal): string {
  const percent = relative.times(100);
  const rounded = roundToSignificant(percent.abs(), 2);
  const sign = rounded.isZero() ? "" : percent.isNegative() ? "−" : "+";
  const places = rounded.isZero() ? 0 : Math.max(0, 1 - rounded.e);
  return `${sign}${rounded.toFixed(places)} %`;
}

/** The same as the text of a stored number: per cent with ten significant digits. */
export function percentOf(relative: Decimal): Decimal {
  return decimal(100).times(relative).toSignificantDigits(10);
}
