import { decimal } from "../../quantity/decimal.ts";
import { lineThroughOrigin } from "../../statistics/line-through-origin.ts";
import { oneWayAnova } from "../../statistics/one-way-anova.ts";
import { type Point, pointsOf, straightLine } from "../../statistics/straight-line.ts";
import { NIST_STRD } from "../../vocabulary/literature.ts";
import { NORRIS_X, NORRIS_Y } from "../data/norris.ts";
import { SIRSTV } from "../data/sirstv.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

const NO_INT_1: readonly Point[] = Array.from({ length: 11 }, (_, i) => ({
  x: decimal(60 + i),
  y: decimal(130 + i),
}));
const NO_INT_2 = pointsOf(decimals("4 5 6"), decimals("3 4 4"));
const NORRIS = pointsOf(NORRIS_X, NORRIS_Y);

function originRows(name: string, points: readonly Point[], printed: readonly string[]): CaseRow[] {
  const line = () => lineThroughOrigin(points);
  const [slope = "", error = "", residual = "", r2 = "", regression = "", squares = "", f = ""] = printed;
  return [
    { what: `${name}: B1`, expected: slope, got: () => line().slope },
    { what: `${name}: s of B1`, expected: error, got: () => line().slopeError },
    { what: `${name}: residual s`, expected: residual, got: () => line().residualDeviation },
    { what: `${name}: R²`, expected: r2, got: () => line().rSquared ?? "none" },
    { what: `${name}: SS of regression`, expected: regression, got: () => line().regressionSquares },
    { what: `${name}: SS of residuals`, expected: squares, got: () => line().residualSquares },
    { what: `${name}: F`, expected: f, got: () => line().f ?? "none" },
  ];
}

/** NIST StRD, linear regression: NoInt1, NoInt2 (through the origin) and Norris. */
export const NIST_STRD_REGRESSION: readonly ReferenceCase[] = rowsOfCases(
  "nist-strd-regression",
  `${NIST_STRD}, linear regression, certified values`,
  "published",
  [
    ...originRows("NoInt1", NO_INT_1, [
      "2.07438016528926",
      "0.0165289256198347",
      "3.56753034006338",
      "0.999365492298663",
      "200457.727272727",
      "127.272727272727",
      "15750.25",
    ]),
    ...originRows("NoInt2", NO_INT_2, [
      "0.727272727272727",
      "0.0420827318078432",
      "0.369274472937998",
      "0.993348115299335",
      "40.7272727272727",
      "0.272727272727273",
      "298.6666666666667",
    ]),
    { what: "Norris: B0", expected: "-0.262323073774029", got: () => straightLine(NORRIS).intercept },
    {
      what: "Norris: s of B0",
      expected: "0.232818234301152",
      got: () => straightLine(NORRIS).interceptError,
    },
    { what: "Norris: B1", expected: "1.00211681802045", got: () => straightLine(NORRIS).slope },
    { what: "Norris: s of B1", expected: "0.000429796848199937", got: () => straightLine(NORRIS).slopeError },
    {
      what: "Norris: residual s",
      expected: "0.884796396144373",
      got: () => straightLine(NORRIS).residualDeviation,
    },
    { what: "Norris: R²", expected: "0.999993745883712", got: () => straightLine(NORRIS).rSquared ?? "none" },
    {
      what: "Norris: SS of regression",
      expected: "4255954.13232369",
      got: () => straightLine(NORRIS).regressionSquares,
    },
    {
      what: "Norris: SS of residuals",
      expected: "26.6173985294224",
      got: () => straightLine(NORRIS).residualSquares,
    },
    { what: "Norris: F", expected: "5436385.54079785", got: () => straightLine(NORRIS).f ?? "none" },
  ],
);

/** NIST StRD, analysis of variance: SiRstv, five instruments with five readings each. */
export const NIST_STRD_ANOVA: readonly ReferenceCase[] = rowsOfCases(
  "nist-strd-anova",
  `${NIST_STRD}, analysis of variance, SiRstv, certified values`,
  "published",
  [
    { what: "SS between", expected: "0.0511462616", got: () => oneWayAnova(SIRSTV).between.squares },
    { what: "MS between", expected: "0.0127865654", got: () => oneWayAnova(SIRSTV).between.meanSquare },
    { what: "df between", expected: "4", got: () => oneWayAnova(SIRSTV).between.degrees, units: "exact" },
    { what: "SS within", expected: "0.21663656", got: () => oneWayAnova(SIRSTV).within.squares },
    { what: "MS within", expected: "0.010831828", got: () => oneWayAnova(SIRSTV).within.meanSquare },
    { what: "df within", expected: "20", got: () => oneWayAnova(SIRSTV).within.degrees, units: "exact" },
    { what: "F", expected: "1.18046237440255", got: () => oneWayAnova(SIRSTV).f ?? "none" },
    { what: "R²", expected: "0.190999039051129", got: () => oneWayAnova(SIRSTV).rSquared ?? "none" },
    { what: "residual s", expected: "0.104076068334656", got: () => oneWayAnova(SIRSTV).withinDeviation },
  ],
);
