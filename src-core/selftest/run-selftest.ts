import { type Decimal, decimal } from "../quantity/decimal.ts";
import { CASE_GRADES, type CaseGrade, type ReferenceCase } from "./reference-case.ts";

export interface SelftestRow {
  readonly id: string;
  readonly source: string;
  readonly standing: ReferenceCase["standing"];
  readonly what: string;
  readonly expected: string;
  /** The value this program gave; empty when it gave none. */
  readonly got: string;
  readonly agrees: boolean;
  /** Why the case gave no value to compare, or could not be compared. */
  readonly error?: string;
}

export interface SelftestReport {
  readonly rows: readonly SelftestRow[];
  readonly agreeing: number;
  readonly disagreeing: number;
}

const NUMBER = /^[+-]?\d+(\.\d+)?(e[+-]?\d+)?$/i;

function textOf(got: Decimal | number | string): string {
  if (typeof got === "string") return got;
  return typeof got === "number" ? String(got) : got.toString();
}

function numberIn(text: string, whose: string): Decimal {
  if (!NUMBER.test(text)) throw new Error(`${whose} is not a number: “${text}”`);
  return decimal(text);
}

/**
 * True when a result agrees with its expected text. With a tolerance both are compared as decimals; `exact` compares
 * numbers by value (so `1.50` is `1.5`) and text character by character.
 * @throws Error when a number was wanted and the text is none
 */
function agreement(expected: string, tolerance: string, got: Decimal | number | string): boolean {
  if (tolerance === "exact") {
    if (typeof got === "string") return got === expected;
    return numberIn(textOf(got), "the result").equals(numberIn(expected, "the expected value"));
  }
  const allowed = numberIn(tolerance, "the tolerance");
  const difference = numberIn(textOf(got), "the result").minus(numberIn(expected, "the expected value"));
  return difference.abs().lessThanOrEqualTo(allowed);
}

function rowOf(reference: ReferenceCase): SelftestRow {
  const { id, source, standing, what, expected } = reference;
  const base = { id, source, standing, what, expected };
  let got = "";
  try {
    const result = reference.got();
    got = textOf(result);
    return { ...base, got, agrees: agreement(expected, reference.tolerance, result) };
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return { ...base, got, agrees: false, error: reason };
  }
}

/** How many of the rows have each standing; a standing without rows is left out. */
export function countsByGrade(rows: readonly SelftestRow[]): readonly (readonly [CaseGrade, number])[] {
  return CASE_GRADES.map(
    (standing) => [standing, rows.filter((row) => row.standing === standing).length] as const,
  ).filter(([, n]) => n > 0);
}

/** Runs every case. A case that throws, or gives no comparable value, is a disagreement with its message. */
export function runSelftest(cases: readonly ReferenceCase[]): SelftestReport {
  const rows = cases.map(rowOf);
  const agreeing = rows.filter((row) => row.agrees).length;
  return { rows, agreeing, disagreeing: rows.length - agreeing };
}
