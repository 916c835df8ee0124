import { decimal } from "../../quantity/decimal.ts";
import { momentMean } from "../../statistics/moment-mean.ts";
import { percentile } from "../../statistics/percentile.ts";
import { MICHELSO } from "../data/michelso.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

const THREE = decimals("1 2 3");

function moment(p: number, q: number, expected: string): CaseRow {
  return { what: `D[${p},${q}]`, expected, got: () => momentMean(THREE, p, q) };
}

/** Three spheres worked by hand, and quartiles of the Michelson data. */
export const MOMENT_MEANS: readonly ReferenceCase[] = [
  ...rowsOfCases("three-spheres", "Diameters 1, 2, 3: arithmetic by hand", "golden", [
    moment(1, 0, "2"),
    moment(2, 0, "2.160246899"),
    moment(3, 0, "2.289428485"),
    moment(2, 1, "2.333333333"),
    moment(3, 2, "2.571428571"),
    moment(4, 3, "2.722222222"),
  ]),
  ...rowsOfCases(
    "michelso-quartiles",
    "NIST StRD Michelso.dat; quartiles recomputed with R 4.2.2",
    "golden",
    [
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
