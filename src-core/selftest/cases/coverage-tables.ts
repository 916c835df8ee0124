import { decimal } from "../../quantity/decimal.ts";
import { studentQuantile } from "../../statistics/distributions.ts";
import { coverageFactor } from "../../uncertainty/coverage.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { rowsOfCases } from "../rows-of-cases.ts";

/** ν and the factor as printed. */
type Table = readonly (readonly [degrees: number, printed: string])[];

function table(text: string): Table {
  return text.split("; ").map((pair) => {
    const [degrees = "", printed = ""] = pair.split(" ");
    return [degrees === "∞" ? Number.POSITIVE_INFINITY : Number(degrees), printed];
  });
}

const T95 = table(
  "1 12.71; 2 4.30; 3 3.18; 4 2.78; 5 2.57; 6 2.45; 7 2.36; 8 2.31; 9 2.26; 10 2.23; 11 2.20; 12 2.18; 13 2.16; 14 2.14; 15 2.13; 16 2.12; 17 2.11; 18 2.10; 19 2.09; 20 2.09; 25 2.06; 30 2.04; 40 2.02; 50 2.01; 100 1.984; ∞ 1.960",
);
const T99 = table(
  "1 63.66; 2 9.92; 3 5.84; 4 4.60; 5 4.03; 6 3.71; 7 3.50; 8 3.36; 9 3.25; 10 3.17; 12 3.05; 15 2.95; 16 2.92; 20 2.85; 25 2.79; 30 2.75; 50 2.68; 100 2.626; ∞ 2.576",
);
const K95_45 = table(
  "1 13.97; 2 4.53; 3 3.31; 4 2.87; 5 2.65; 6 2.52; 7 2.43; 8 2.37; 10 2.28; 20 2.13; 50 2.05; ∞ 2.00",
);
const T95_DIGITS = table(
  "1 12.70620474; 2 4.302652730; 3 3.182446305; 5 2.570581836; 8 2.306004135; 12 2.178812830; 19 2.093024054; 30 2.042272456; 50 2.008559112; 100 1.983971519; ∞ 1.959963985",
);

function k95(degrees: number): ReturnType<typeof coverageFactor> {
  return coverageFactor("t95", Number.isFinite(degrees) ? decimal(degrees) : null);
}

const words = (degrees: number): string => (Number.isFinite(degrees) ? `${degrees}` : "infinite");

export const COVERAGE_TABLES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "gum-g2-95",
    "JCGM 100:2008 Table G.2, 95 %",
    "from memory",
    T95.map(([nu, expected]) => ({ what: `k for ν = ${words(nu)}`, expected, got: () => k95(nu) })),
  ),
  ...rowsOfCases(
    "gum-g2-99",
    "JCGM 100:2008 Table G.2, 99 %",
    "from memory",
    T99.map(([nu, expected]) => ({
      what: `t for ν = ${words(nu)}`,
      expected,
      got: () => studentQuantile(0.995, nu),
    })),
  ),
  ...rowsOfCases(
    "ea-4-02-e1",
    "EA-4/02 Annex E, Table E.1, 95.45 %",
    "from memory",
    K95_45.map(([nu, expected]) => ({
      what: `k for ν = ${words(nu)}`,
      expected,
      got: () => studentQuantile(0.97724987, nu),
    })),
  ),
  ...rowsOfCases(
    "t95-digits",
    "Student's t at 0.975 computed to 40 digits",
    "golden",
    T95_DIGITS.map(([nu, expected]) => ({ what: `k for ν = ${words(nu)}`, expected, got: () => k95(nu) })),
  ),
];
