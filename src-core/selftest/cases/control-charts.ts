import { agreementOf } from "../../calibration/agreement.ts";
import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { chiSquaredUpperP } from "../../statistics/distributions.ts";
import { mean, standardDeviation, sumOfSquaredDeviations } from "../../statistics/sample.ts";
import { c4, D3_OF_TWO, MEDIAN_RANGE_DIVISOR, MOVING_RANGE_CONSTANTS } from "../../trends/chart-constants.ts";
import { countChart } from "../../trends/count-chart.ts";
import { deviationLimits, individualsChart } from "../../trends/individuals-chart.ts";
import { NIST_HANDBOOK } from "../../vocabulary/literature.ts";
import { GEAR } from "../data/gear.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

const FLOW = decimals("49.6 47.6 49.9 51.3 47.8 51.2 52.6 52.4 53.6 52.1");
const WAFERS = decimals("16 14 28 16 12 20 10 12 10 17 19 17 14 16 15 13 14 16 11 20 11 19 16 31 13");
const defects = () => countChart(WAFERS.map((objects) => ({ objects, areas: 1 })));
const chart = () => individualsChart(FLOW, "table");
const exact = () => individualsChart(FLOW, "exact");

/** Individuals and count charts as the handbook prints them. */
export const HANDBOOK_CHARTS: readonly ReferenceCase[] = [
  ...rowsOfCases("handbook-individuals", `${NIST_HANDBOOK}, 6.3.2.2`, "published", [
    { what: "mean", expected: "50.81", got: () => chart().centre },
    { what: "mean moving range", expected: "1.8778", got: () => chart().meanRange },
    { what: "upper limit", expected: "55.8041", got: () => chart().limits.upper },
    { what: "lower limit", expected: "45.8159", got: () => chart().limits.lower },
  ]),
  ...rowsOfCases(
    "handbook-counts",
    "NIST/SEMATECH e-Handbook 6.3.3.1; its results from memory",
    "from memory",
    [
      { what: "mean count", expected: "16", units: "exact", got: () => defects().centre },
      {
        what: "upper limit",
        expected: "28",
        units: "exact",
        got: () => defects().points[0]?.limits.upper ?? Number.NaN,
      },
      {
        what: "lower limit",
        expected: "4",
        units: "exact",
        got: () => defects().points[0]?.limits.lower ?? Number.NaN,
      },
      {
        what: "beyond, counted from 1",
        expected: "24",
        units: "exact",
        got: () =>
          defects()
            .points.flatMap(({ isOutside }, i) => (isOutside ? [i + 1] : []))
            .join(" "),
      },
    ],
  ),
  ...rowsOfCases(
    "handbook-charts-full",
    "NIST/SEMATECH e-Handbook 6.3: its data, results recomputed outside the program",
    "golden",
    [
      { what: "d2 1.128: upper limit", expected: "55.8040898345", got: () => chart().limits.upper },
      { what: "d2 1.128: lower limit", expected: "45.8159101655", got: () => chart().limits.lower },
      { what: "d2 2/√π: upper limit", expected: "55.8024116801", got: () => exact().limits.upper },
      { what: "d2 2/√π: lower limit", expected: "45.8175883199", got: () => exact().limits.lower },
      { what: "limit of moving ranges", expected: "6.1347", got: () => chart().rangeLimit },
      { what: "counts: index of dispersion", expected: "37.875", units: "exact", got: dispersion },
      {
        what: "counts: p",
        expected: "0.0357080891904",
        got: () => chiSquaredUpperP(dispersion().toNumber(), 24),
      },
    ],
  ),
];

function dispersion(): Decimal {
  return sumOfSquaredDeviations(WAFERS).div(mean(WAFERS));
}

const { exact: constants, table } = MOVING_RANGE_CONSTANTS;
const C4 =
  `2 0.79788456 3 0.88622693 4 0.92131773 5 0.93998560 6 0.95153286 7 0.95936879 8 0.96503046 9 0.96931070
  10 0.97265927 15 0.98231618 20 0.98693427 25 0.98964038 30 0.99141805`.split(/\s+/);

/** Constants of charts for ranges of two, and c4. */
export const CHART_CONSTANTS: readonly ReferenceCase[] = [
  ...rowsOfCases("chart-constants", "ASTM E2587 and ISO 7870-2, tables of constants", "from memory", [
    { what: "d2", expected: "1.128", got: () => constants.d2 },
    { what: "d3", expected: "0.853", got: () => D3_OF_TWO },
    { what: "D4", expected: "3.267", got: () => constants.d4 },
    { what: "E2 = 3/1.128", expected: "2.660", got: () => decimal(3).div(table.d2) },
    { what: "d4 of the median range", expected: "0.954", got: () => MEDIAN_RANGE_DIVISOR },
  ]),
  ...rowsOfCases(
    "chart-constants-full",
    "2/√π, √(2 − 4/π), √2·Φ⁻¹(0.75), Γ: computed with 40 digits",
    "golden",
    [
      { what: "d2", expected: "1.1283791670955126", got: () => constants.d2 },
      { what: "d3", expected: "0.8525024664274217", got: () => D3_OF_TWO },
      { what: "D4", expected: "3.266531919288601", got: () => constants.d4 },
      { what: "3/d2", expected: "2.658680776358274", got: () => decimal(3).div(constants.d2) },
      { what: "d4 of the median range", expected: "0.9538725524089398", got: () => MEDIAN_RANGE_DIVISOR },
      { what: "3/d4", expected: "3.1450742475", got: () => decimal(3).div(MEDIAN_RANGE_DIVISOR) },
      ...C4.flatMap((n, at): CaseRow[] =>
        at % 2 === 0 ? [{ what: `c4(${n})`, expected: C4[at + 1] ?? "", got: () => c4(Number(n)) }] : [],
      ),
    ],
  ),
];

const FACTORS = decimals("10.10 10.11 10.09 10.10 10.12 10.10 10.08 10.11 10.10 10.10");
const limits = () => deviationLimits(FACTORS);
const moving = () => individualsChart(FACTORS, "table");
const later = decimal("10.15");

/** Ten factors and an eleventh that is out. */
export const FACTOR_CHART: readonly ReferenceCase[] = rowsOfCases(
  "factor-chart",
  "Invented inputs; limits x̄ ± 2s, x̄ ± 3s and x̄ ± 3·MR̄/1.128 recomputed",
  "golden",
  [
    { what: "mean", expected: "10.101", units: "exact", got: () => limits().centre },
    { what: "s", expected: "0.01100504934614", got: () => limits().deviation },
    { what: "−3s", expected: "10.06798485196156", got: () => limits().action.lower },
    { what: "−2s", expected: "10.07898990130771", got: () => limits().warning.lower },
    { what: "+2s", expected: "10.12301009869229", got: () => limits().warning.upper },
    { what: "+3s", expected: "10.13401514803844", got: () => limits().action.upper },
    { what: "mean moving range", expected: "0.0155555555555556", got: () => moving().meanRange },
    { what: "σ from it", expected: "0.01379038613081", got: () => moving().sigma },
    { what: "lower limit", expected: "10.059628841607565", got: () => moving().limits.lower },
    { what: "upper limit", expected: "10.142371158392435", got: () => moving().limits.upper },
    {
      what: "10.15 in s from the mean",
      expected: "4.4525",
      got: () => later.minus(limits().centre).div(limits().deviation),
    },
    {
      what: "10.15 against the mean, %",
      expected: "0.4851",
      got: () => later.div(limits().centre).minus(1).times(100),
    },
  ],
);

function normalisedError(batch: readonly Decimal[], value: string): Decimal {
  return agreementOf({
    earlier: { factor: decimal(1), standardUncertainty: standardDeviation(GEAR.flat()) },
    later: { factor: decimal(value), standardUncertainty: standardDeviation(batch) },
    sharedUncertainty: decimal(0),
  }).normalisedError;
}

function score(batch: number, value: string, expected: string): CaseRow {
  return {
    what: `batch ${batch}, ${value}`,
    expected,
    got: () => normalisedError(GEAR[batch - 1] ?? [], value),
  };
}

/** E_n of gear diameters against 1.000: U_lab twice the s of the batch, U_ref twice the s of all. */
export const EN_SCORES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "en-score",
    "NIST Statistical Engineering Division, page ‘ISO 13528 EN SCORE’ (no year on it), printed table for GEAR.DAT",
    "from memory",
    [
      score(1, "1.006", "0.393"),
      score(1, "0.996", "-0.262"),
      score(1, "0.998", "-0.131"),
      score(1, "1.000", "0"),
    ],
  ),
  ...rowsOfCases("en-score-full", "NIST GEAR.DAT; E_n recomputed outside the program", "golden", [
    score(1, "1.006", "0.392858875"),
    score(1, "0.996", "-0.261905917"),
    score(1, "0.998", "-0.130952958"),
    score(1, "0.992", "-0.523811833"),
    score(2, "0.998", "-0.122502889"),
    score(2, "1.006", "0.367508666"),
  ]),
];
