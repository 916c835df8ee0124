import { oneWayAnova } from "../../statistics/one-way-anova.ts";
import { pointsOf, straightLine } from "../../statistics/straight-line.ts";
import { NIST_STRD } from "../../vocabulary/literature.ts";
import { NORRIS_X, NORRIS_Y } from "../data/norris.ts";
import { SIRSTV } from "../data/sirstv.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { rowsOfCases } from "../rows-of-cases.ts";

const NORRIS = pointsOf(NORRIS_X, NORRIS_Y);

/** NIST StRD, linear regression: Norris. */
export const NIST_STRD_REGRESSION: readonly ReferenceCase[] = rowsOfCases(
  "nist-strd-regression",
  `${NIST_STRD}, linear regression, certified values`,
  "published",
  [
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
