import { decimal } from "#core/quantity/decimal.ts";
import { trueMinus } from "#core/quantity/printed-number.ts";
import { formatToPlaces, roundToSignificant } from "#core/quantity/rounding.ts";

/** A stored decimal to four significant digits, for looking at; the record keeps all of them. */
export function toFour(stored: string): string {
  return roundToSignificant(decimal(stored), 4).toFixed();
}

/** A stored share such as `0.1234` as `12.3 %`. */
export function asPercent(stored: string): string {
  return trueMinus(`${formatToPlaces(decimal(stored).times(100), 1)} %`);
}
