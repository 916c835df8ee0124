import type { ForwardTrace } from "#core/contract/records/trace.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { formatToPlaces, roundToSignificant } from "#core/quantity/rounding.ts";

/** With its sign and two significant digits, a nought at the end kept. */
function twoDigits(value: Decimal): string {
  const rounded = roundToSignificant(value.abs(), 2);
  return `${value.isNegative() ? "−" : "+"}${formatToPlaces(rounded, Math.max(0, 1 - rounded.e))}`;
}

/** A relative change for people: `+0.40 %`, two significant digits. */
export function changeWords(stored: string): string {
  const change = decimal(stored).times(100);
  if (change.isZero()) return "none";
  return `${twoDigits(change)} %`;
}

/** A difference in µm for people, with its sign, two significant digits. */
export function differenceWords(stored: string | null): string {
  if (stored === null) return "–";
  const difference = decimal(stored);
  if (difference.isZero()) return "0";
  return twoDigits(difference);
}

/** `300 results in 300 rows on 2 sheets, 1 of them signed.` */
export function countWords({ counts }: Pick<ForwardTrace, "counts">): string {
  const { results, rows, sheets, signedSheets } = counts;
  if (results === 0) return "It touches no result of these days.";
  const signed = signedSheets > 0 ? `, ${signedSheets} of them signed` : "";
  return `${countedNoun(results, "result")} in ${countedNoun(rows, "row")} on ${countedNoun(sheets, "sheet")}${signed}.`;
}
