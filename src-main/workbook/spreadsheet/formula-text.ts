import type { RoundingRule } from "#core/quantity/rounding.ts";
import { cellText } from "./cell-text.ts";

/** Text within a formula; quotation marks are doubled, so that no text ends it. */
export function quoted(text: string): string {
  return `"${cellText(text).replaceAll('"', '""')}"`;
}

/**
 * A number as text with a fixed number of digits after the point, in the reader's decimal separator: FIXED takes no
 * format text, which other languages of a spreadsheet would read otherwise. Ties are decided by the method's rule (ISO
 * 80000-1:2009 Annex B); half-even is made of ROUND, which rounds them away from zero.
 */
export function fixedText(cell: string, places: number, rule: RoundingRule): string {
  if (rule === "half-up") return `FIXED(${cell},${places},TRUE)`;
  const scale = 10 ** places;
  const scaled = places === 0 ? cell : `${cell}*${scale}`;
  const isTie = `ABS(${scaled}-INT(${scaled})-0.5)<0.000000001`;
  const even = `2*ROUND(${scaled}/2,0)/${scale}`;
  return `FIXED(IF(${isTie},${even},ROUND(${cell},${places})),${places},TRUE)`;
}
