import { decimal } from "../../quantity/decimal.ts";
import { type Contribution, combinedUncertainty } from "../../uncertainty/combine.ts";
import { fromExpanded, rectangular, triangular } from "../../uncertainty/type-b.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { rowsOfCases } from "../rows-of-cases.ts";

const d = decimal;
const certain = (contribution: ReturnType<typeof d>): Contribution => ({
  contribution: contribution.abs(),
  degreesOfFreedom: null,
});

/** 50 mm of steel, nm per °C of a difference between the two blocks. */
const NM_PER_DEGREE = d("50e6").times("11.5e-6");
const REPEATS = d(12).div(d(5).sqrt());
const TEMPERATURES = rectangular(d("0.05")).times(NM_PER_DEGREE);
const EXPANSIONS = triangular(d("2e-6")).times(rectangular(d("0.5")));
const PLACE_OF_CONTACT = rectangular(d("6.7"));

/** nm: certificate, drift, repeats, comparator, temperatures, expansions, place of contact. */
const GAUGE_BLOCK: readonly Contribution[] = [
  fromExpanded(d(30), d(2)),
  rectangular(d(30)),
  REPEATS,
  rectangular(d(32)),
  TEMPERATURES,
  EXPANSIONS.times("50e6"),
  PLACE_OF_CONTACT,
].map(certain);

/** µm: gauge block ± 0.8, temperatures ± 2 °C, reading to 0.05 mm, mechanical effects ± 50. */
const CALIPER: readonly Contribution[] = [
  rectangular(d("0.8")),
  rectangular(d(2)).times(d("150e3").times("11.5e-6")),
  rectangular(d(25)),
  rectangular(d(50)),
].map(certain);

/** Gauge block of 50 mm compared with another (S4) and vernier caliper at 150 mm (S10): every line, then the sum. */
export const EA_4_02_BUDGETS: readonly ReferenceCase[] = [
  ...rowsOfCases("ea-4-02-s4", "EA-4/02, Supplement 1, S4, Table S4.1, gauge block", "from memory", [
    { what: "certificate, nm", expected: "15.0", got: () => fromExpanded(d(30), d(2)) },
    { what: "drift, nm", expected: "17.3", got: () => rectangular(d(30)) },
    { what: "five repeats, pooled s of 12 nm, nm", expected: "5.37", got: () => REPEATS },
    { what: "comparator, nm", expected: "18.5", got: () => rectangular(d(32)) },
    { what: "difference of temperatures, °C", expected: "0.0289", got: () => rectangular(d("0.05")) },
    { what: "difference of temperatures, nm", expected: "16.6", got: () => TEMPERATURES },
    { what: "expansion × deviation from 20 °C", expected: "0.236e-6", got: () => EXPANSIONS },
    { what: "expansion × deviation, nm", expected: "11.8", got: () => EXPANSIONS.times("50e6") },
    { what: "place of contact, nm", expected: "3.87", got: () => PLACE_OF_CONTACT },
    { what: "u of the length, nm", expected: "36.4", got: () => combinedUncertainty(GAUGE_BLOCK) },
    { what: "U with k = 2, nm", expected: "73", got: () => combinedUncertainty(GAUGE_BLOCK).times(2) },
  ]),
  ...rowsOfCases("ea-4-02-s10", "EA-4/02, Supplement 2, S10, vernier caliper", "from memory", [
    { what: "gauge block, µm", expected: "0.46", got: () => rectangular(d("0.8")) },
    { what: "temperatures, °C", expected: "1.15", got: () => rectangular(d(2)) },
    { what: "mechanical effects, µm", expected: "29", got: () => rectangular(d(50)) },
    // 33 is printed from contributions rounded to 15 and 29.
    { what: "u of the error, µm", expected: "33", units: 1, got: () => combinedUncertainty(CALIPER) },
  ]),
];
