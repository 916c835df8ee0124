import { type Decimal, decimal } from "../quantity/decimal.ts";
import type { ReferenceCase } from "./reference-case.ts";

/** One line of a table of cases: what is computed, the value as printed, how it is computed here, and the window. */
export interface CaseRow {
  readonly what: string;
  /** As the source prints it: its last digit sets the tolerance. */
  readonly expected: string;
  readonly got: () => Decimal | number | string;
  /**
   * Tolerance in units of the last printed digit. Left out: 0.5 for a print (it is rounded), 1 for a golden value (worked
   * out in double precision to its last digit). A source that truncates needs 1. 'exact': equal by value, or character
   * by character for text.
   */
  readonly units?: number | "exact";
}

/** The tolerance as decimal text: so many units of the last digit of a printed number. */
export function unitsOfLastDigit(printed: string, units: number): string {
  const match = /^[+-]?\d+(?:\.(\d+))?(?:e([+-]?\d+))?$/i.exec(printed);
  if (!match) throw new Error(`not a printed number: “${printed}”`);
  const exponent = Number(match[2] ?? 0) - (match[1]?.length ?? 0);
  return decimal(units).times(decimal(10).pow(exponent)).toString();
}

/** Cases of one source, numbered in order: `prefix.1`, `prefix.2` … */
export function rowsOfCases(
  prefix: string,
  source: string,
  standing: ReferenceCase["standing"],
  rows: readonly CaseRow[],
): ReferenceCase[] {
  return rows.map(({ what, expected, got, units = standing === "golden" ? 1 : 0.5 }, index) => ({
    id: `${prefix}.${index + 1}`,
    source,
    standing,
    what,
    expected,
    tolerance: units === "exact" ? "exact" : unitsOfLastDigit(expected, units),
    got,
  }));
}

/** Decimals from text with spaces between them. */
export function decimals(text: string): Decimal[] {
  return text
    .trim()
    .split(/\s+/)
    .map((word) => decimal(word));
}
