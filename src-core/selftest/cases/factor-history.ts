import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { standardDeviation } from "../../statistics/sample.ts";
import { lineInterval, predict } from "../../statistics/straight-line.ts";
import { drift } from "../../trends/drift.ts";
import { factorLimits, predictionFactor } from "../../trends/factor-limits.ts";
import { individualsChart, movingRanges } from "../../trends/individuals-chart.ts";
import { mannKendall } from "../../trends/mann-kendall.ts";
import { bandDays, guardedLimit, reachingDay } from "../../trends/reaching-date.ts";
import { runSignals } from "../../trends/run-rules.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

const DAYS = decimals("0 91 182 275 366 458 547 640 731 823 912 1005");
const FACTORS = decimals(
  "2.5007 2.5011 2.5004 2.5016 2.5013 2.5022 2.5018 2.5029 2.5024 2.5033 2.5031 2.5040",
);
const POINTS = DAYS.map((day, at) => ({ day, value: FACTORS[at] ?? decimal(0) }));
const UNGUARDED = decimal("2.5132035");

const found = () => drift({ points: POINTS, interval: decimal(91) });
const line = () => found().line;
const guarded = () => guardedLimit(decimal("2.5007"), decimal("0.005"), decimal("0.0064"), "upper");
const days = (limit: Decimal, band: "line" | "value") => {
  const roots = bandDays(line(), limit, 0.95, band);
  return roots === null ? "none" : roots;
};
const root = (limit: () => Decimal, band: "line" | "value", end: "earliest" | "latest") => () => {
  const roots = days(limit(), band);
  return roots === "none" ? roots : roots[end];
};
const reach = (limit: Decimal) => {
  const answer = reachingDay(found(), limit, "upper");
  return answer.kind === "day" || answer.kind === "not-before"
    ? `${answer.kind} ${answer.day.toFixed(4)}`
    : answer.kind;
};
const chart = (constants: "exact" | "table") => individualsChart(FACTORS, constants);
const trend = () => mannKendall(POINTS);
const firstFive = () => factorLimits({ values: FACTORS.slice(0, 5), occasionUncertainty: decimal("0.0026") });
const half = () =>
  lineInterval(line(), decimal(1096), 0.95, "observation").upper.minus(predict(line(), decimal(1096)).value);

const regression: readonly CaseRow[] = [
  { what: "x̄", expected: "502.5", units: "exact", got: () => line().meanX },
  { what: "ȳ", expected: "2.5020666666667", got: () => line().meanY },
  { what: "Sxx", expected: "1192943", units: "exact", got: () => line().sxx },
  { what: "slope per day", expected: "3.17902867111e-6", got: () => line().slope },
  { what: "slope per 365.25 days", expected: "0.001161140222123", got: () => line().slope.times("365.25") },
  { what: "intercept", expected: "2.50046920475943", got: () => line().intercept },
  { what: "s", expected: "0.00039376621672625", got: () => line().residualDeviation },
  { what: "s of the slope", expected: "3.6051937244607e-7", got: () => line().slopeError },
  { what: "s of the intercept", expected: "0.00021386979328656", got: () => line().interceptError },
  { what: "t", expected: "8.81791358268", got: () => found().t ?? "none" },
  { what: "p", expected: "4.970991755e-6", got: () => found().p },
  { what: "slope, 95 %, lower", expected: "2.37574145047e-6", got: () => found().slopeInterval.lower },
  { what: "slope, 95 %, upper", expected: "3.98231589175e-6", got: () => found().slopeInterval.upper },
  {
    what: "reported as a drift",
    expected: "true",
    units: "exact",
    got: () => String(found().caveats.length === 0),
  },
  { what: "at day 1096", expected: "2.503953420183", got: () => predict(line(), decimal(1096)).value },
  { what: "at day 1096: 95 % half-width for a value", expected: "0.00103015037926", got: half },
];

const reaching: readonly CaseRow[] = [
  { what: "guarded limit", expected: "2.5068035", units: "exact", got: guarded },
  { what: "guarded limit reached", expected: "day 1992.5254", units: "exact", got: () => reach(guarded()) },
  {
    what: "unguarded: beyond twice the span",
    expected: "not-before 2010.0000",
    units: "exact",
    got: () => reach(UNGUARDED),
  },
  { what: "guarded, line: earliest", expected: "1683.6242348909", got: root(guarded, "line", "earliest") },
  { what: "guarded, line: latest", expected: "2504.6764503031", got: root(guarded, "line", "latest") },
  { what: "guarded, value: earliest", expected: "1594.2557484841", got: root(guarded, "value", "earliest") },
  { what: "guarded, value: latest", expected: "2594.0449367100", got: root(guarded, "value", "latest") },
  {
    what: "unguarded, line: earliest",
    expected: "3295.4935905812",
    got: root(() => UNGUARDED, "line", "earliest"),
  },
  {
    what: "unguarded, line: latest",
    expected: "5193.8079852026",
    got: root(() => UNGUARDED, "line", "latest"),
  },
  {
    what: "unguarded, value: earliest",
    expected: "3253.5593161691",
    got: root(() => UNGUARDED, "value", "earliest"),
  },
  {
    what: "unguarded, value: latest",
    expected: "5235.7422596148",
    got: root(() => UNGUARDED, "value", "latest"),
  },
];

const charts: readonly CaseRow[] = [
  {
    what: "moving ranges",
    expected: "0.0004 0.0007 0.0012 0.0003 0.0009 0.0004 0.0011 0.0005 0.0009 0.0002 0.0009",
    units: "exact",
    got: () => movingRanges(FACTORS).join(" "),
  },
  { what: "mean moving range", expected: "0.0006818181818182", got: () => chart("exact").meanRange },
  { what: "d2 exact: upper", expected: "2.50387940356", got: () => chart("exact").limits.upper },
  { what: "d2 exact: lower", expected: "2.500253929774", got: () => chart("exact").limits.lower },
  { what: "d2 1.128: upper", expected: "2.503880012895", got: () => chart("table").limits.upper },
  { what: "d2 1.128: lower", expected: "2.500253320438", got: () => chart("table").limits.lower },
  { what: "limit of moving ranges", expected: "0.00222718085406", got: () => chart("exact").rangeLimit },
  {
    what: "σ from the median range",
    expected: "0.000733850657755",
    got: () => chart("exact").sigmaFromMedian,
  },
  { what: "s", expected: "0.001112191394037", got: () => standardDeviation(FACTORS) },
  {
    what: "T1 signals",
    expected: "12",
    units: "exact",
    got: () =>
      runSignals({
        values: FACTORS,
        centre: chart("exact").centre,
        sigma: chart("exact").sigma,
        rules: ["T1"],
      })
        .map(({ index }) => index + 1)
        .join(" "),
  },
  { what: "first five: mean", expected: "2.50102", units: "exact", got: () => firstFive().centre },
  {
    what: "first five: 95 %, lower",
    expected: "2.49957091906",
    got: () => firstFive().warning?.lower ?? "none",
  },
  {
    what: "first five: 95 %, upper",
    expected: "2.50246908094",
    got: () => firstFive().warning?.upper ?? "none",
  },
  {
    what: "first five: 99 %, lower",
    expected: "2.49861703295",
    got: () => firstFive().action?.lower ?? "none",
  },
  {
    what: "first five: 99 %, upper",
    expected: "2.50342296705",
    got: () => firstFive().action?.upper ?? "none",
  },
];

const robust: readonly CaseRow[] = [
  { what: "Mann–Kendall S", expected: "54", units: "exact", got: () => trend().score },
  { what: "variance of S", expected: "212.6666666667", got: () => trend().variance },
  { what: "Z", expected: "3.63434505102", got: () => trend().z ?? "none" },
  { what: "τ", expected: "0.8181818182", got: () => trend().tau },
  { what: "exact two-sided p", expected: "4.4129288921e-5", got: () => trend().p },
  { what: "Sen's slope per day", expected: "3.27391822152e-6", got: () => trend().slope },
];

/** `n:95 %/99 %/99.73 %` per entry. */
const K = `2:15.5619/77.9633/288.797 3:4.96828/11.4602/22.178 4:3.55808/6.53034/10.3071 5:3.04144/5.04353/7.25207
  6:2.77655/4.35521/5.94833 7:2.61586/3.96341/5.24267 8:2.50806/3.71176/4.80476 9:2.43074/3.53689/4.50797
  10:2.37257/3.40846/4.29409 12:2.29086/3.23263/4.00714 15:2.21513/3.07447/3.75504 20:2.14471/2.93159/3.53236
  25:2.10477/2.85233/3.41099 30:2.07904/2.80195/3.33465`;
/** Φ(3) − Φ(−3). */
const THREE_SIGMA = 0.9973002039367398;

const predictionRows = K.split(/\s+/).flatMap((entry): CaseRow[] => {
  const [n = "", values = ""] = entry.split(":");
  return values.split("/").map((expected, at) => {
    const level = [0.95, 0.99, THREE_SIGMA][at] ?? 0;
    return {
      what: `K(${n}) at ${(100 * level).toFixed(2)} %`,
      expected,
      got: () => predictionFactor(Number(n), level),
    };
  });
});

/** Twelve invented calibrations of one train over 1005 days, with every figure of chart, drift and dates. */
export const FACTOR_HISTORY: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "factor-history",
    "Invented inputs; results recomputed with 40-digit arithmetic and R 4.2.2",
    "golden",
    [...regression, ...reaching, ...charts, ...robust],
  ),
  ...rowsOfCases("prediction-factor", "t·√(1 + 1/n), recomputed with R 4.2.2", "golden", predictionRows),
];
