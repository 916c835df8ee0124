import { decimal } from "../../quantity/decimal.ts";
import { normalQuantile } from "../../statistics/distributions.ts";
import {
  countedOnce,
  logNormalMomentMean,
  logNormalPercentile,
  momentMean,
} from "../../statistics/moment-mean.ts";
import { percentile } from "../../statistics/percentile.ts";
import { proposeClasses } from "../../statistics/size-classes.ts";
import { weightedPercentile } from "../../statistics/weighted-percentile.ts";
import { MICHELSO } from "../data/michelso.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

const THREE = decimals("1 2 3");
const CMD = decimal(10);
const GSD = decimal("1.5");

function hatchChoate(p: number, q: number, expected: string): CaseRow {
  return {
    what: `log-normal D[${p},${q}], median 10, GSD 1.5`,
    expected,
    got: () => logNormalMomentMean(CMD, GSD, p, q),
  };
}

function moment(p: number, q: number, expected: string): CaseRow {
  return { what: `D[${p},${q}]`, expected, got: () => momentMean(countedOnce(THREE), p, q) };
}

/** Three spheres worked by hand, the log-normal relations, and the class rules on the Michelson data. */
export const MOMENT_MEANS: readonly ReferenceCase[] = [
  ...rowsOfCases("three-spheres", "Diameters 1, 2, 3: arithmetic by hand", "golden", [
    moment(1, 0, "2"),
    moment(2, 0, "2.160246899"),
    moment(3, 0, "2.289428485"),
    moment(2, 1, "2.333333333"),
    moment(3, 2, "2.571428571"),
    moment(4, 3, "2.722222222"),
    {
      what: "Dv50, step",
      expected: "3",
      units: "exact",
      got: () => weightedPercentile(THREE, "volume", decimal("0.5"), "step").value,
    },
  ]),
  ...rowsOfCases(
    "hatch-choate",
    "Hatch and Choate 1929, J. Franklin Institute 207:369: the relations; values recomputed",
    "golden",
    [
      hatchChoate(1, 0, "10.8567398334705"),
      hatchChoate(2, 0, "11.7868799811665"),
      hatchChoate(3, 0, "12.7967089403866"),
      hatchChoate(3, 2, "15.0833272434257"),
      hatchChoate(4, 3, "17.7785367934917"),
      {
        what: "median by volume",
        expected: "16.375575970497",
        got: () => logNormalPercentile(CMD, GSD, 3, 0),
      },
      {
        what: "10 % by volume",
        expected: "9.73927335443364",
        got: () => logNormalPercentile(CMD, GSD, 3, normalQuantile(0.1)),
      },
      {
        what: "90 % by volume",
        expected: "27.533829127349",
        got: () => logNormalPercentile(CMD, GSD, 3, normalQuantile(0.9)),
      },
    ],
  ),
  ...rowsOfCases(
    "michelso-classes",
    "NIST StRD Michelso.dat; class numbers and quartiles recomputed with R 4.2.2",
    "golden",
    [
      {
        what: "Sturges",
        expected: "8",
        units: "exact",
        got: () => proposeClasses(MICHELSO, "sturges").count,
      },
      { what: "Scott", expected: "8", units: "exact", got: () => proposeClasses(MICHELSO, "scott").count },
      {
        what: "Freedman–Diaconis",
        expected: "13",
        units: "exact",
        got: () => proposeClasses(MICHELSO, "freedman-diaconis").count,
      },
      {
        what: "P25 by type 7",
        expected: "299.8075",
        units: "exact",
        got: () => percentile(MICHELSO, decimal("0.25"), 7).value,
      },
      {
        what: "P75 by type 7",
        expected: "299.8925",
        units: "exact",
        got: () => percentile(MICHELSO, decimal("0.75"), 7).value,
      },
      {
        what: "P25 by type 6",
        expected: "299.8025",
        units: "exact",
        got: () => percentile(MICHELSO, decimal("0.25"), 6).value,
      },
      {
        what: "P75 by type 6",
        expected: "299.8975",
        units: "exact",
        got: () => percentile(MICHELSO, decimal("0.75"), 6).value,
      },
    ],
  ),
];
