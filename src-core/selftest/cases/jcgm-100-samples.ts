import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { anovaOfGroups, groupFromPrinted } from "../../statistics/one-way-anova.ts";
import { pointsOf, predict, straightLine } from "../../statistics/straight-line.ts";
import { summarise } from "../../statistics/summary.ts";
import { JCGM_100 } from "../../vocabulary/literature.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

/** Two prints of one result: as the document rounds it, and to full precision from outside the program. */
interface TwicePrinted {
  readonly what: string;
  readonly printed?: string;
  readonly full: string;
  readonly got: () => Decimal | number | string;
}

function asPrinted(rows: readonly TwicePrinted[]): CaseRow[] {
  return rows.flatMap(({ what, printed, got }) =>
    printed === undefined ? [] : [{ what, expected: printed, got }],
  );
}

function inFull(rows: readonly TwicePrinted[]): CaseRow[] {
  return rows.map(({ what, full, got }) => ({ what, expected: full, got }));
}

const TEMPERATURES = decimals(
  `96.90 98.18 98.25 98.61 99.03 99.49 99.56 99.74 99.89 100.07
  100.33 100.42 100.68 100.95 101.11 101.20 101.57 101.84 102.36 102.72`,
);

const table1: readonly TwicePrinted[] = [
  { what: "Table 1: mean, °C", full: "100.145", got: () => summarise(TEMPERATURES).mean },
  {
    what: "Table 1: s, °C",
    printed: "1.489",
    full: "1.488844483059544",
    got: () => summarise(TEMPERATURES).deviation ?? "none",
  },
  {
    what: "Table 1: s of the mean, °C",
    printed: "0.333",
    full: "0.332915747204667",
    got: () => summarise(TEMPERATURES).standardError ?? "none",
  },
];

const THERMOMETER = decimals("21.521 22.012 22.512 23.003 23.507 23.999 24.513 25.002 25.503 26.010 26.511");
const CORRECTION = decimals("-0.171 -0.169 -0.166 -0.159 -0.164 -0.165 -0.156 -0.157 -0.159 -0.161 -0.160");
const h3 = () =>
  straightLine(
    pointsOf(
      THERMOMETER.map((t) => t.minus(20)),
      CORRECTION,
    ),
  );

const calibrationCurve: readonly TwicePrinted[] = [
  { what: "H.3: intercept y1", printed: "-0.1712", full: "-0.17120379013135", got: () => h3().intercept },
  { what: "H.3: s(y1)", printed: "0.0029", full: "0.00287759783515995", got: () => h3().interceptError },
  { what: "H.3: slope y2", printed: "0.00218", full: "0.00218269773988728", got: () => h3().slope },
  { what: "H.3: s(y2)", printed: "0.00067", full: "0.000667938773227832", got: () => h3().slopeError },
  { what: "H.3: r(y1, y2)", printed: "-0.930", full: "-0.930429603093446", got: () => h3().correlation },
  { what: "H.3: s", printed: "0.0035", full: "0.00349756396350528", got: () => h3().residualDeviation },
  { what: "H.3: sum of squares", full: "0.000110096583109", got: () => h3().residualSquares },
  {
    what: "H.3: correction at 30 °C",
    printed: "-0.1494",
    full: "-0.149376812732477",
    got: () => predict(h3(), decimal(10)).value,
  },
  {
    what: "H.3: u of it",
    printed: "0.0041",
    full: "0.00413859575285495",
    got: () => predict(h3(), decimal(10)).standardError,
  },
];

const DAY_MEANS = decimals("172 116 13 144 106 31 60 125 163 41");
const DAY_DEVIATIONS = decimals("60 77 111 101 67 93 80 73 88 86");
const h5 = () =>
  anovaOfGroups(DAY_MEANS.map((day, index) => groupFromPrinted(5, day, DAY_DEVIATIONS[index] ?? decimal(0))));

const betweenDays: readonly TwicePrinted[] = [
  { what: "H.5: grand mean − 10 V, µV", full: "97.1", got: () => h5().grandMean },
  {
    what: "H.5: s of day means",
    printed: "57",
    full: "57.0895008833596",
    got: () => h5().between.meanSquare.div(5).sqrt(),
  },
  { what: "H.5: s_a", printed: "128", full: "127.656004776726", got: () => h5().between.meanSquare.sqrt() },
  { what: "H.5: s_b", printed: "85", full: "84.8869836900805", got: () => h5().withinDeviation },
  { what: "H.5: F", full: "2.26151926997080", got: () => h5().f ?? "none" },
  {
    what: "H.5: u of the grand mean",
    printed: "18",
    full: "18.0532853273611",
    got: () => h5().between.meanSquare.div(50).sqrt(),
  },
  {
    what: "H.5: between-day s_B",
    printed: "43",
    full: "42.6386105673146",
    got: () => h5().betweenDeviation,
  },
];

/** Guide to the expression of uncertainty: 4.4.3 Table 1, H.3 (calibration curve), H.5 (days and readings within days). */
export const JCGM_100_SAMPLES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "jcgm-100-h3",
    `${JCGM_100}, H.3, Tables H.6 and H.7`,
    "published",
    asPrinted(calibrationCurve),
  ),
  ...rowsOfCases("jcgm-100-4.4.3", `${JCGM_100}, 4.4.3, Table 1`, "from memory", asPrinted(table1)),
  ...rowsOfCases("jcgm-100-h5", `${JCGM_100}, H.5, Table H.9`, "from memory", [
    ...asPrinted(betweenDays),
    {
      what: "H.5: F as printed, from rounded 5·57²/85²",
      expected: "2.25",
      units: 2,
      got: () => h5().f ?? "",
    },
    { what: "H.5: ν", expected: "9", units: "exact", got: () => h5().between.degrees },
  ]),
  ...rowsOfCases("jcgm-100-full", `${JCGM_100}: its data, results recomputed outside the program`, "golden", [
    ...inFull(table1),
    ...inFull(calibrationCurve),
    ...inFull(betweenDays),
  ]),
];
