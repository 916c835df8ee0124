import { decimal } from "../../quantity/decimal.ts";
import type { Interval } from "../../statistics/interval.ts";
import { type PercentileType, percentile } from "../../statistics/percentile.ts";
import { NORMAL_MAD_FACTOR } from "../../statistics/sample.ts";
import { summarise } from "../../statistics/summary.ts";
import { S30 } from "../data/golden-sample.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

const of = () => summarise(S30);
const at99 = () => summarise(S30, 0.99);
const low = (interval: Interval | null | undefined) => interval?.lower ?? "none";
const high = (interval: Interval | null | undefined) => interval?.upper ?? "none";

const basic: readonly CaseRow[] = [
  { what: "sum", expected: "472.2", units: "exact", got: () => of().sum },
  { what: "mean", expected: "15.74", units: "exact", got: () => of().mean },
  { what: "s", expected: "4.61747803982605", got: () => of().deviation ?? "none" },
  { what: "variance", expected: "21.3211034482759", got: () => of().variance ?? "none" },
  {
    what: "CV, %",
    expected: "29.3359468858072",
    got: () => of().coefficientOfVariation?.times(100) ?? "none",
  },
  { what: "standard error", expected: "0.843032293732489", got: () => of().standardError ?? "none" },
  { what: "minimum", expected: "8.9", units: "exact", got: () => of().minimum },
  { what: "maximum", expected: "28.7", units: "exact", got: () => of().maximum },
  { what: "median", expected: "15", units: "exact", got: () => of().median },
  {
    what: "median absolute deviation",
    expected: "2.75",
    units: "exact",
    got: () => of().medianAbsoluteDeviation,
  },
  {
    what: "the same as an estimate of σ",
    expected: "4.07715",
    units: "exact",
    got: () => of().medianAbsoluteDeviation.times(NORMAL_MAD_FACTOR),
  },
  { what: "mean, 95 %, lower", expected: "14.0158053635832", got: () => low(of().meanInterval) },
  { what: "mean, 95 %, upper", expected: "17.4641946364168", got: () => high(of().meanInterval) },
  { what: "mean, 99 %, lower", expected: "13.4162776692167", got: () => low(at99().meanInterval) },
  { what: "mean, 99 %, upper", expected: "18.0637223307833", got: () => high(at99().meanInterval) },
  { what: "s, 95 %, lower", expected: "3.67739152279669", got: () => low(of().deviationInterval) },
  { what: "s, 95 %, upper", expected: "6.20734581874759", got: () => high(of().deviationInterval) },
  { what: "s, 99 %, lower", expected: "3.43720282508512", got: () => low(at99().deviationInterval) },
  { what: "s, 99 %, upper", expected: "6.86464220081725", got: () => high(at99().deviationInterval) },
  { what: "geometric mean", expected: "15.1413454794709", got: () => of().geometric?.mean ?? "none" },
  { what: "geometric s", expected: "1.32349778264269", got: () => of().geometric?.deviation ?? "none" },
  {
    what: "geometric mean, 95 %, lower",
    expected: "13.6367937560962",
    got: () => low(of().geometric?.interval),
  },
  {
    what: "geometric mean, 95 %, upper",
    expected: "16.8118948654044",
    got: () => high(of().geometric?.interval),
  },
  { what: "harmonic mean", expected: "14.5912871573306", got: () => of().harmonicMean ?? "none" },
  { what: "skewness g1", expected: "0.944098659703795", got: () => of().shape?.skewness ?? "none" },
  { what: "skewness G1", expected: "0.994532491280974", got: () => of().shape?.sampleSkewness ?? "none" },
  {
    what: "excess kurtosis g2",
    expected: "0.70742039549992",
    got: () => of().shape?.excessKurtosis ?? "none",
  },
  {
    what: "excess kurtosis G2",
    expected: "1.07139012639475",
    got: () => of().shape?.sampleExcessKurtosis ?? "none",
  },
];

const SHARES = ["0.05", "0.1", "0.16", "0.25", "0.5", "0.75", "0.84", "0.9", "0.95"] as const;

function percentiles(type: PercentileType, printed: string): CaseRow[] {
  const values = printed.split(" ");
  return SHARES.map((p, at) => ({
    what: `P${p} by type ${type}`,
    expected: values[at] ?? "",
    got: () => percentile(S30, decimal(p), type).value,
  }));
}

/** Thirty invented diameters; every result computed outside the program with R 4.2.2. */
export const GOLDEN_SAMPLE: readonly ReferenceCase[] = rowsOfCases(
  "golden-sample",
  "Invented inputs; results recomputed with R 4.2.2",
  "golden",
  [
    ...basic,
    ...percentiles(6, "9.395 10.34 11.18 12.325 15 18.175 20.152 22.21 26.995"),
    ...percentiles(7, "10.025 10.66 11.648 12.525 15 17.85 19.588 21.49 24.115"),
    ...percentiles(
      8,
      "9.665 10.4466666666667 11.3306666666667 12.375 15 18.0583333333333 19.9506666666667 21.97 26.065",
    ),
  ],
);
