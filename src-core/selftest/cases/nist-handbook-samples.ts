import { decimal } from "../../quantity/decimal.ts";
import { generalizedEsd } from "../../statistics/generalized-esd.ts";
import { type GrubbsSide, grubbs, grubbsCritical } from "../../statistics/grubbs.ts";
import { type Interval, twoSidedStudent } from "../../statistics/interval.ts";
import { oneWayAnova } from "../../statistics/one-way-anova.ts";
import { type PercentileType, percentile } from "../../statistics/percentile.ts";
import { mean, standardDeviation } from "../../statistics/sample.ts";
import { summarise } from "../../statistics/summary.ts";
import { NIST_HANDBOOK } from "../../vocabulary/literature.ts";
import { GEAR } from "../data/gear.ts";
import { ROSNER } from "../data/rosner.ts";
import { ZARR13 } from "../data/zarr13.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

const URANIUM = decimals("199.31 199.53 200.19 200.82 201.92 201.95 202.18 245.57");
const RESISTIVITY = decimals(
  "95.1772 95.1567 95.1937 95.1959 95.1442 95.0610 95.1591 95.1195 95.1065 95.0925 95.1990 95.1682",
);
const TURNED = [
  ".125 .127 .125 .126 .128",
  ".118 .122 .120 .124 .119",
  ".123 .125 .125 .124 .126",
  ".126 .128 .126 .127 .129",
  ".118 .129 .127 .120 .121",
].map((row) => decimals(row));

function percentileRows(type: PercentileType, printed: readonly string[]): CaseRow[] {
  return ["0.10", "0.25", "0.50", "0.75", "0.90"].flatMap((p, at): CaseRow[] => {
    const expected = printed[at];
    if (expected === undefined) return [];
    return [
      { what: `P${p} by type ${type}`, expected, got: () => percentile(RESISTIVITY, decimal(p), type).value },
    ];
  });
}

function critical(n: number, alpha: number, side: GrubbsSide, expected: string): CaseRow {
  const what = `Grubbs critical value, n ${n}, ${alpha * 100} %, ${side}`;
  return { what, expected, got: () => grubbsCritical(n, alpha, side) };
}

const esd = () => generalizedEsd(ROSNER, 10, 0.05);
const gear = () => oneWayAnova(GEAR);
const turned = () => oneWayAnova(TURNED);
const zarr = () => summarise(ZARR13);
const low = (interval: Interval | null) => interval?.lower ?? "none";
const high = (interval: Interval | null) => interval?.upper ?? "none";

/** What the handbook prints; where it truncates, the window is one unit of the last digit. */
export const NIST_HANDBOOK_SAMPLES: readonly ReferenceCase[] = [
  ...rowsOfCases("nist-handbook", NIST_HANDBOOK, "published", [
    { what: "1.3.5.2 ZARR13: s", expected: "0.022789", got: () => standardDeviation(ZARR13) },
    { what: "1.3.5.2 ZARR13: t(0.975, 194)", expected: "1.9723", got: () => twoSidedStudent(0.95, 194) },
    { what: "1.3.5.2 ZARR13: lower limit", expected: "9.2582", got: () => low(zarr().meanInterval) },
    { what: "1.3.5.2 ZARR13: upper limit", expected: "9.2647", got: () => high(zarr().meanInterval) },
    { what: "1.3.5.17.1 uranium: G", expected: "2.4687", units: 1, got: () => grubbs(URANIUM).statistic },
    {
      what: "1.3.5.17.1 uranium: value flagged",
      expected: "245.57",
      units: "exact",
      got: () => grubbs(URANIUM).value,
    },
    {
      what: "7.2.6.2 resistivities: P90 by type 6",
      expected: "95.1981",
      got: () => percentile(RESISTIVITY, decimal("0.9"), 6).value,
    },
  ]),
  ...rowsOfCases("nist-handbook-recalled", `${NIST_HANDBOOK}; its print from memory`, "from memory", [
    { what: "1.3.5.2 ZARR13: mean", expected: "9.261460", units: 1, got: () => mean(ZARR13) },
    { what: "1.3.5.2 ZARR13: lower limit", expected: "9.258242", got: () => low(zarr().meanInterval) },
    { what: "1.3.5.2 ZARR13: upper limit", expected: "9.264679", got: () => high(zarr().meanInterval) },
    critical(8, 0.05, "largest", "2.032"),
    ...["3.118", "2.942", "3.179"].map(
      (expected, at): CaseRow => ({
        what: `1.3.5.17.3 Rosner: R${at + 1}`,
        expected,
        units: 1,
        got: () => esd().steps[at]?.statistic ?? "none",
      }),
    ),
    ...["3.158", "3.151", "3.143"].map(
      (expected, at): CaseRow => ({
        what: `1.3.5.17.3 Rosner: λ${at + 1}`,
        expected,
        units: 1,
        got: () => esd().steps[at]?.critical ?? "none",
      }),
    ),
    { what: "1.3.5.17.3 Rosner: outliers", expected: "3", units: "exact", got: () => esd().outliers },
    { what: "1.3.5.4 gear: SS between", expected: "0.000729", got: () => gear().between.squares },
    { what: "1.3.5.4 gear: SS within", expected: "0.003174", got: () => gear().within.squares },
    { what: "1.3.5.4 gear: F", expected: "2.2969", got: () => gear().f ?? "none" },
  ]),
];

/** The same data to full precision: computed outside the program with 40-digit arithmetic and a statistics package. */
export const NIST_HANDBOOK_FULL: readonly ReferenceCase[] = rowsOfCases(
  "nist-handbook-full",
  `${NIST_HANDBOOK}: its data, results recomputed outside the program`,
  "golden",
  [
    { what: "ZARR13: mean", expected: "9.261460758974358", units: 1, got: () => mean(ZARR13) },
    { what: "ZARR13: s", expected: "0.0227887974248417", got: () => standardDeviation(ZARR13) },
    { what: "ZARR13: t", expected: "1.97226753258214", got: () => twoSidedStudent(0.95, 194) },
    {
      what: "ZARR13: lower limit",
      expected: "9.25824213732888",
      got: () => low(zarr().meanInterval),
    },
    {
      what: "ZARR13: upper limit",
      expected: "9.26467938061984",
      got: () => high(zarr().meanInterval),
    },
    { what: "uranium: G", expected: "2.46876461121", got: () => grubbs(URANIUM).statistic },
    critical(8, 0.05, "largest", "2.031652001550"),
    critical(8, 0.05, "either", "2.126645087195"),
    critical(8, 0.01, "largest", "2.220833451510"),
    critical(8, 0.01, "either", "2.274365127080"),
    {
      what: "uranium: one-sided p",
      expected: "1.5013193410354e-7",
      got: () => grubbs(URANIUM, 0.05, "largest").p,
    },
    ..."3.1189 2.9430 3.1794 2.8102 2.8156 2.8482 2.2793 2.3104 2.1016 2.0672".split(" ").map(
      (expected, at): CaseRow => ({
        what: `Rosner: R${at + 1}`,
        expected,
        got: () => esd().steps[at]?.statistic ?? "none",
      }),
    ),
    ..."3.1588 3.1514 3.1439 3.1362 3.1282 3.1201 3.1118 3.1032 3.0945 3.0854".split(" ").map(
      (expected, at): CaseRow => ({
        what: `Rosner: λ${at + 1}`,
        expected,
        got: () => esd().steps[at]?.critical ?? "none",
      }),
    ),
    {
      what: "Rosner: values flagged",
      expected: "6.01 5.42 5.34",
      units: "exact",
      got: () =>
        esd()
          .steps.slice(0, esd().outliers)
          .map(({ value }) => value.toFixed())
          .join(" "),
    },
    { what: "gear: SS between", expected: "0.00072904", got: () => gear().between.squares },
    { what: "gear: MS between", expected: "0.00008100444", got: () => gear().between.meanSquare },
    { what: "gear: MS within", expected: "0.00003526667", got: () => gear().within.meanSquare },
    { what: "gear: F", expected: "2.29691", got: () => gear().f ?? "none" },
    { what: "gear: p", expected: "0.022661", got: () => gear().p ?? "none" },
    { what: "gear: mean", expected: "0.99764", got: () => gear().grandMean },
    {
      what: "gear: s of all",
      expected: "0.00627890487781479",
      units: 1,
      got: () => standardDeviation(GEAR.flat()),
    },
    { what: "3.2.3.1 turned: SS between", expected: "0.00013744", got: () => turned().between.squares },
    { what: "3.2.3.1 turned: MS between", expected: "3.436e-5", got: () => turned().between.meanSquare },
    { what: "3.2.3.1 turned: SS within", expected: "0.000132", got: () => turned().within.squares },
    { what: "3.2.3.1 turned: MS within", expected: "6.6e-6", got: () => turned().within.meanSquare },
    { what: "3.2.3.1 turned: F", expected: "5.20606", got: () => turned().f ?? "none" },
    { what: "3.2.3.1 turned: p", expected: "0.0048587", got: () => turned().p ?? "none" },
    ...percentileRows(5, ["95.08305", "95.113", "95.1579", "95.18545", "95.19683"]),
    ...percentileRows(6, ["95.07045", "95.10975", "95.1579", "95.189575", "95.19807"]),
    ...percentileRows(7, ["95.0939", "95.11625", "95.1579", "95.181325", "95.19568"]),
    ...percentileRows(8, ["95.07885", "95.1119166667", "95.1579", "95.186825", "95.1972433333"]),
  ],
);
