import type { ForwardTrace } from "#core/contract/records/trace.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { roundToSignificant } from "#core/quantity/rounding.ts";

/** A relative change for people: `+0.40 %`, two significant digits. */
export function changeWords(stored: string): string {
  const change = decimal(stored).times(100);
  if (change.isZero()) return "none";
  const rounded = roundToSignificant(change.abs(), 2);
  return `${change.isNegative() ? "−" : "+"}${rounded.toFixed()} %`;
}

/** A difference in µm for people, with its sign, two significant digits. */
export function differenceWords(stored: string | null): string {
  if (stored === null) return "–";
  const difference = decimal(stored);
  if (difference.isZero()) return "0";
  return `${difference.isNegative() ? "−" : "+"}${roundToSignificant(difference.abs(), 2).toFixed()}`;
}

export function counted(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}

/** `300 results in 300 rows on 2 sheets, 1 of them signed.` */
export function countWords({ counts }: Pick<ForwardTrace, "counts">): string {
  const { results, rows, sheets, signedSheets } = counts;
  if (results === 0) return "It touches no result of these days.";
  const signed = signedSheets > 0 ? `, ${signedSheets} of them signed` : "";
  return `${counted(results, "result")} in ${counted(rows, "row")} on ${counted(sheets, "sheet")}${signed}.`;
}
