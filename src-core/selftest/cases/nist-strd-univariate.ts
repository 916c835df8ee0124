import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { lagOneAutocorrelation } from "../../statistics/distribution-shape.ts";
import { mean, standardDeviation } from "../../statistics/sample.ts";
import { NIST_STRD } from "../../vocabulary/literature.ts";
import { LEW } from "../data/lew.ts";
import { LOTTERY } from "../data/lottery.ts";
import { MAVRO } from "../data/mavro.ts";
import { MICHELSO } from "../data/michelso.ts";
import { nistPiDigits, piDigits } from "../data/pi-digits.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

/** A first value, then `pairs` times a low and a high one. */
function alternating(first: string, low: string, high: string, pairs: number): Decimal[] {
  return [first, ...new Array<[string, string]>(pairs).fill([low, high]).flat()].map(decimal);
}

function r1(values: readonly Decimal[]): Decimal | string {
  return lagOneAutocorrelation(values) ?? "no spread";
}

function certified(
  name: string,
  values: () => readonly Decimal[],
  [meanText, deviation, autocorrelation]: readonly [string, string, string],
  units?: "exact",
): CaseRow[] {
  const window = units === undefined ? {} : { units };
  return [
    { what: `${name}: mean`, expected: meanText, got: () => mean(values()), ...window },
    { what: `${name}: s`, expected: deviation, got: () => standardDeviation(values()), ...window },
    { what: `${name}: lag-1 autocorrelation`, expected: autocorrelation, got: () => r1(values()), ...window },
  ];
}

const SOURCE = `${NIST_STRD}, univariate summary statistics, certified values`;

/** Certified to 15 digits; NumAcc1–4 are exact and fail with the sum-of-squares formula or binary floats. */
export const NIST_STRD_UNIVARIATE: readonly ReferenceCase[] = [
  ...rowsOfCases("nist-strd-univariate", SOURCE, "published", [
    ...certified("NumAcc1", () => decimals("10000001 10000003 10000002"), ["10000002", "1", "-0.5"], "exact"),
    ...certified("NumAcc2", () => alternating("1.2", "1.1", "1.3", 500), ["1.2", "0.1", "-0.999"], "exact"),
    ...certified(
      "NumAcc3",
      () => alternating("1000000.2", "1000000.1", "1000000.3", 500),
      ["1000000.2", "0.1", "-0.999"],
      "exact",
    ),
    ...certified(
      "NumAcc4",
      () => alternating("10000000.2", "10000000.1", "10000000.3", 500),
      ["10000000.2", "0.1", "-0.999"],
      "exact",
    ),
    ...certified("Michelso", () => MICHELSO, ["299.852400000000", "0.0790105478190518", "0.535199668621283"]),
    ...certified("Mavro", () => MAVRO, ["2.00185600000000", "0.000429123454003053", "0.937989183438248"]),
    ...certified("Lew", () => LEW, ["-177.435000000000", "277.332168044316", "-0.307304800605679"]),
    ...certified("Lottery", () => LOTTERY, ["518.958715596330", "291.699727470969", "-0.120948622967393"]),
    ...certified("PiDigits, with digit 957 as the file has it", () => nistPiDigits().map(decimal), [
      "4.53480000000000",
      "2.86733906028871",
      "-0.00355099287237972",
    ]),
  ]),
  ...rowsOfCases(
    "pi-digits",
    "The first 5000 digits of π; computed with 40-digit arithmetic outside the program",
    "golden",
    certified("5000 digits of π, true digit 957", () => piDigits(5000).map(decimal), [
      "4.5358",
      "2.867675552187612",
      "-0.003802097632115141",
    ]),
  ),
];
