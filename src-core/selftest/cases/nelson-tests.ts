import { decimal } from "../../quantity/decimal.ts";
import { runSignals } from "../../trends/run-rules.ts";
import { RUN_RULES } from "../../vocabulary/trends.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

/** Every signal of the eight tests on a sequence of z-scores, as `T2@10`: test and point, counted from 1. */
function signals(sequence: string): string {
  const found = runSignals({
    values: decimals(sequence),
    centre: decimal(0),
    sigma: decimal(1),
    rules: RUN_RULES,
  });
  return found.map(({ rule, index }) => `${rule}@${index + 1}`).join(" ");
}

const SEQUENCES: readonly (readonly [name: string, values: string, signals: string])[] = [
  ["no signal", "0.2 -1.1 0.7 0.3 -0.4 1.6 -0.2 0.5 -1.3 0.9", ""],
  ["beyond 3σ; 3σ itself is not beyond", "0.2 -0.5 3.1 0.4 -3.0 -3.01", "T1@3 T1@6 T5@6"],
  ["nine on one side", "-0.1 0.3 0.2 0.5 1.2 0.1 0.4 0.9 0.2 0.6 0.3 -0.2", "T2@10 T2@11"],
  ["six rising", "0.5 -0.8 -0.6 -0.2 0.1 0.4 0.9 1.0 0.3", "T3@7 T3@8"],
  [
    "fourteen alternating",
    "0.1 0.6 -0.2 0.4 -0.5 0.7 -0.1 0.3 -0.6 0.2 -0.3 0.8 -0.4 0.5 -0.7",
    "T4@14 T4@15 T7@15",
  ],
  ["two of three beyond 2σ, the last one among them", "0.1 2.3 0.4 2.1 -0.3 -2.2 -2.4 0.5", "T5@4 T5@7"],
  ["four of five beyond 1σ", "0.2 1.2 1.5 0.3 1.1 1.4 -0.2", "T6@6"],
  [
    "fifteen within 1σ",
    "0.1 -0.3 0.5 -0.7 0.2 0.8 -0.4 0.6 -0.2 -0.9 0.3 0.1 -0.5 0.7 -0.6 0.2",
    "T7@15 T7@16",
  ],
  ["eight beyond 1σ", "1.2 -1.4 1.6 1.1 -1.3 -1.8 1.5 -1.1 0.2", "T8@8"],
];

/** Definitions as published; the sequences are invented, their signals worked out by a second program. */
export const NELSON_TESTS: readonly ReferenceCase[] = rowsOfCases(
  "nelson",
  "Nelson 1984, J. Quality Technology 16:237: the eight tests; invented sequences",
  "golden",
  SEQUENCES.map(
    ([what, values, expected]): CaseRow => ({ what, expected, units: "exact", got: () => signals(values) }),
  ),
);
