import { morisitaIndex, negativeBinomialK } from "../../counting/densities/aggregation.ts";
import { betweenFieldInterval } from "../../counting/intervals/between-field-interval.ts";
import { evidenceOfFields } from "../../counting/intervals/count-evidence.ts";
import { type DispersionResult, dispersionTest } from "../../counting/intervals/dispersion-test.ts";
import { garwoodInterval } from "../../counting/intervals/poisson-interval.ts";
import { NO_SOURCE } from "../../vocabulary/literature.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

function fieldsOf(text: string): number[] {
  return text.split(" ").map(Number);
}

/** Evenly spread, clustered, and the two short lists. */
const EVEN = fieldsOf("7 4 9 6 11 5 8 3 10 7 6 12 5 9 8 4 7 10 6 8");
const CLUSTERED = fieldsOf("0 2 15 1 0 9 22 3 0 5 1 18 0 4 0 11 2 0 7 0");
const SHORT_EVEN = fieldsOf("7 5 9 6 8 4 7 10 6 8");
const SHORT_CLUSTERED = fieldsOf("1 0 14 2 0 11 3 0 9 20");
const YEAST_FIELDS = fieldsOf("35 41 37 47 43 45 70 46 40 29");

/** A number that must exist here; a missing one is a disagreement. */
function given(value: number | null | undefined): number {
  return value ?? Number.NaN;
}

function row(
  what: string,
  expected: string,
  got: () => number | string,
  units: number | "exact" = 1,
): CaseRow {
  return { what, expected, got, units };
}

function dispersionRow(
  name: string,
  fields: readonly number[],
  quantity: keyof DispersionResult,
  expected: string,
  units: number | "exact" = 2,
): CaseRow {
  return row(`${name}: ${quantity}`, expected, () => dispersionTest(fields)[quantity] ?? Number.NaN, units);
}

export const FIELD_SCATTER: readonly ReferenceCase[] = rowsOfCases(
  "fields",
  "Invented counts; computed with R 4.2.2",
  "golden",
  [
    dispersionRow("20 even fields", EVEN, "total", "145", "exact"),
    dispersionRow("20 even fields", EVEN, "mean", "7.25", "exact"),
    dispersionRow("20 even fields", EVEN, "variance", "5.98684210526316"),
    dispersionRow("20 even fields", EVEN, "ratio", "0.825771324863884"),
    dispersionRow("20 even fields", EVEN, "index", "15.6896551724138"),
    dispersionRow("20 even fields", EVEN, "upperP", "0.677873537563289", 5),
    dispersionRow("20 even fields", EVEN, "lowerP", "0.322126462436711", 5),
    dispersionRow("20 even fields", EVEN, "twoSidedP", "0.644252924873422", 5),
    dispersionRow("20 even fields", EVEN, "expectedLower", "8.90651648198797"),
    dispersionRow("20 even fields", EVEN, "expectedUpper", "32.8523268617297"),
    dispersionRow("20 even fields", EVEN, "verdict", "random", "exact"),
    row("20 even fields: Garwood lower of the total", "122.359851306193", () => garwoodInterval(145).lower),
    row("20 even fields: Garwood upper of the total", "170.614808208181", () => garwoodInterval(145).upper),
    row("20 even fields: Garwood lower per field", "6.11799256530965", () => garwoodInterval(145).lower / 20),
    row("20 even fields: Garwood upper per field", "8.53074041040904", () => garwoodInterval(145).upper / 20),
    row("20 even fields: t interval, lower", "6.10486121560156", () => betweenFieldInterval(EVEN).lower),
    row("20 even fields: t interval, upper", "8.39513878439844", () => betweenFieldInterval(EVEN).upper),
    row("20 even fields: interval to show", "poisson", () => evidenceOfFields(EVEN).basis, "exact"),
    dispersionRow("20 clustered fields", CLUSTERED, "variance", "44.4210526315789"),
    dispersionRow("20 clustered fields", CLUSTERED, "ratio", "8.88421052631579"),
    dispersionRow("20 clustered fields", CLUSTERED, "index", "168.8"),
    dispersionRow("20 clustered fields", CLUSTERED, "upperP", "4.87889859140092e-26", 100),
    dispersionRow("20 clustered fields", CLUSTERED, "verdict", "clustered", "exact"),
    row("20 clustered fields: k", "0.577837116154873", () => given(negativeBinomialK(CLUSTERED)?.k)),
    row("20 clustered fields: simple k", "0.634178905206943", () =>
      given(negativeBinomialK(CLUSTERED)?.simple),
    ),
    row("20 clustered fields: Morisita", "2.51313131313131", () => given(morisitaIndex(CLUSTERED))),
    row(
      "20 clustered fields: Garwood lower, too narrow",
      "81.3639912509231",
      () => garwoodInterval(100).lower,
    ),
    row(
      "20 clustered fields: Garwood upper, too narrow",
      "121.626793792426",
      () => garwoodInterval(100).upper,
    ),
    row(
      "20 clustered fields: t interval, lower",
      "1.88072514317154",
      () => betweenFieldInterval(CLUSTERED).lower,
    ),
    row(
      "20 clustered fields: t interval, upper",
      "8.11927485682846",
      () => betweenFieldInterval(CLUSTERED).upper,
    ),
    row(
      "20 clustered fields: interval to show",
      "between-fields",
      () => evidenceOfFields(CLUSTERED).basis,
      "exact",
    ),
    dispersionRow("10 even fields", SHORT_EVEN, "variance", "3.3333333333333335", 10),
    dispersionRow("10 even fields", SHORT_EVEN, "index", "4.285714285714286", 10),
    dispersionRow("10 even fields", SHORT_EVEN, "upperP", "0.8916", 1),
    dispersionRow("10 even fields", SHORT_EVEN, "expectedLower", "2.7003894999803584", 20),
    dispersionRow("10 even fields", SHORT_EVEN, "expectedUpper", "19.02276779864163", 10),
    row(
      "10 even fields: half-width",
      "1.306057046890784",
      () => betweenFieldInterval(SHORT_EVEN).halfWidth,
      20,
    ),
    dispersionRow("10 clustered fields", SHORT_CLUSTERED, "variance", "50.22222222222222", 2),
    dispersionRow("10 clustered fields", SHORT_CLUSTERED, "index", "75.33333333333333", 2),
    dispersionRow("10 clustered fields", SHORT_CLUSTERED, "upperP", "1.36e-12", 0.5),
    dispersionRow("10 clustered fields", SHORT_CLUSTERED, "verdict", "clustered", "exact"),
    row(
      "10 clustered fields: half-width",
      "5.069565479076584",
      () => betweenFieldInterval(SHORT_CLUSTERED).halfWidth,
      20,
    ),
  ],
);

export const HAEMOCYTOMETER_FIELDS: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "haemocytometer-fields",
    `${NO_SOURCE}: ten haemocytometer fields with their mean and standard deviation`,
    "common practice",
    [
      row("mean of ten fields, as printed", "43", () => dispersionTest(YEAST_FIELDS).mean, 0.5),
      row(
        "standard deviation, as printed",
        "11",
        () => Math.sqrt(dispersionTest(YEAST_FIELDS).variance),
        0.5,
      ),
    ],
  ),
  ...rowsOfCases(
    "haemocytometer-dispersion",
    "Ten haemocytometer fields, common practice; computed with R 4.2.2",
    "golden",
    [
      dispersionRow("ten fields", YEAST_FIELDS, "index", "24.621247113164"),
      dispersionRow("ten fields", YEAST_FIELDS, "upperP", "0.00341999795594"),
    ],
  ),
];
