import {
  amountLookedAt,
  numberPerAmount,
  sizeClassResults,
} from "../../counting/results/size-class-results.ts";
import { readSizeClasses, tallySizes } from "../../measurement/size-classes.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { rowsOfCases } from "../rows-of-cases.ts";

/** Invented sizes, µm, each with U = 0.5 µm; one lies on a limit, two within their U of one. */
const SIZES = ["4", "9.8", "10", "12", "24.9", "25", "60"].map((value) => ({
  value,
  expandedUncertainty: "0.5",
}));
const LIMITS = [
  { from: "10", most: "3000" },
  { from: "25", most: "300" },
];
const tallies = (counted: "at-least" | "between") =>
  tallySizes(readSizeClasses({ limits: LIMITS, counted }), SIZES);
const ofUsp = (counts: readonly number[], rule: "simple-acceptance" | "guarded-acceptance") =>
  sizeClassResults(
    { per: "container", rule },
    readSizeClasses({ limits: LIMITS, counted: "at-least" }),
    counts.map((counted) => ({ counted, near: 0 })),
    { containers: "10" },
  )
    .map(({ conforms }) => String(conforms))
    .join(" ");

export const SIZE_CLASS_CASES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "size-classes",
    "Invented sizes and limits; a size on a limit belongs to the class from it on",
    "golden",
    [
      {
        what: "counted from each limit on",
        expected: "5 2",
        got: () =>
          tallies("at-least")
            .map(({ counted }) => counted)
            .join(" "),
        units: "exact",
      },
      {
        what: "counted between limits",
        expected: "3 2",
        got: () =>
          tallies("between")
            .map(({ counted }) => counted)
            .join(" "),
        units: "exact",
      },
      {
        what: "within U of a limit of the class",
        expected: "2 2",
        got: () =>
          tallies("at-least")
            .map(({ near }) => near)
            .join(" "),
        units: "exact",
      },
    ],
  ),
  ...rowsOfCases(
    "size-class-numbers",
    "NIST/SEMATECH: e-Handbook of Statistical Methods (2012), 1.3.6.7.4, χ²: 0.025, 20 is 9.591; 0.975, 22 is 36.781; halved and divided by 25 mL",
    "from memory",
    [
      { what: "10 in 25 mL, lower", expected: "0.1918", got: () => numberPerAmount(10, 25).lower },
      { what: "10 in 25 mL, upper", expected: "0.7356", got: () => numberPerAmount(10, 25).upper },
    ],
  ),
  ...rowsOfCases(
    "size-class-limits",
    "USP <788>, method 2: P·A_T/A_P per container; at most 3000 ≥ 10 µm and 300 ≥ 25 µm; invented counts",
    "from memory",
    [
      {
        what: "12 on a fifth of the filter, from 10 containers",
        expected: "6",
        got: () =>
          numberPerAmount(12, amountLookedAt("container", { containers: "10", portion: "20" }) ?? 0).value,
        units: "exact",
      },
      {
        what: "30000 and 3000 from 10 containers, the number itself",
        expected: "true true",
        got: () => ofUsp([30000, 3000], "simple-acceptance"),
        units: "exact",
      },
      {
        what: "30001 and 2900, the number itself",
        expected: "false true",
        got: () => ofUsp([30001, 2900], "simple-acceptance"),
        units: "exact",
      },
      {
        what: "29000 and 2900, by the upper limit of the count",
        expected: "true false",
        got: () => ofUsp([29000, 2900], "guarded-acceptance"),
        units: "exact",
      },
    ],
  ),
];
