import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { studentQuantile } from "../../statistics/distributions.ts";
import {
  type Contribution,
  combinedUncertainty,
  effectiveDegreesOfFreedom,
} from "../../uncertainty/combine.ts";
import { coverageFactor } from "../../uncertainty/coverage.ts";
import {
  arcSine,
  degreesOfJudgedUncertainty,
  fromExpanded,
  fromNormalInterval,
  fromResolution,
  rectangular,
  trapezoidal,
  triangular,
} from "../../uncertainty/type-b.ts";
import { JCGM_100 } from "../../vocabulary/literature.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { rowsOfCases } from "../rows-of-cases.ts";

const d = decimal;

function part(sensitivity: Decimal, u: Decimal, nu: Decimal | null): Contribution {
  return { contribution: sensitivity.times(u).abs(), degreesOfFreedom: nu };
}

/** Difference of the two gauges, nm: the repeats, the comparator's random and its systematic effect. */
const COMPARATOR: readonly Contribution[] = [
  { contribution: d(13).div(d(5).sqrt()), degreesOfFreedom: d(24) },
  { contribution: d("3.9"), degreesOfFreedom: d(5) },
  { contribution: d("6.7"), degreesOfFreedom: d(8) },
];

const STANDARD_NM = d("50000623");
const EXPANSION = d("11.5e-6");
const TEMPERATURE_OFF = d("-0.1");

/** u of the temperature: 0.2 °C of the mean and a cycle of ±0.5 °C. */
const TEMPERATURE_U = d("0.2")
  .pow(2)
  .plus(arcSine(d("0.5")).pow(2))
  .sqrt();

const GAUGE: readonly Contribution[] = [
  { contribution: fromExpanded(d(75), d(3)), degreesOfFreedom: d(18) },
  { contribution: combinedUncertainty(COMPARATOR), degreesOfFreedom: effectiveDegreesOfFreedom(COMPARATOR) },
  part(STANDARD_NM.times(TEMPERATURE_OFF), rectangular(d("1e-6")), degreesOfJudgedUncertainty(d("0.1"))),
  part(STANDARD_NM.times(EXPANSION), rectangular(d("0.05")), degreesOfJudgedUncertainty(d("0.5"))),
];

function degrees(contributions: readonly Contribution[]): Decimal {
  return effectiveDegreesOfFreedom(contributions) ?? d(0);
}

const SECOND_ORDER: readonly Contribution[] = [
  ...GAUGE,
  { contribution: STANDARD_NM.times(rectangular(d("1e-6"))).times(TEMPERATURE_U), degreesOfFreedom: null },
  {
    contribution: STANDARD_NM.times(rectangular(d("2e-6"))).times(rectangular(d("0.05"))),
    degreesOfFreedom: null,
  },
];

/** Half-width of the 99 % interval, nm. */
const AT_99 = (): Decimal => combinedUncertainty(GAUGE).times(studentQuantile(0.995, 16));

/** JCGM 100:2008 H.1: an end gauge compared with a standard of the same length. Windows where the print was rounded on the way. */
export const GUM_END_GAUGE: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "gum-h1",
    `${JCGM_100}, H.1, end-gauge calibration (Table H.1, H.1.5 to H.1.7)`,
    "published",
    [
      { what: "u of the difference, nm", expected: "9.7", got: () => combinedUncertainty(COMPARATOR) },
      { what: "u of the temperature, °C", expected: "0.41", got: () => TEMPERATURE_U },
      {
        what: "contribution of the expansion difference, nm",
        expected: "2.9",
        got: () => GAUGE[2]?.contribution ?? "",
      },
      {
        what: "contribution of the temperature difference, nm",
        expected: "16.6",
        units: 1,
        got: () => GAUGE[3]?.contribution ?? "",
      },
      { what: "combined u, nm", expected: "32", got: () => combinedUncertainty(GAUGE) },
      {
        what: "combined u between all ways of rounding, nm",
        expected: "31.69",
        units: 3,
        got: () => combinedUncertainty(GAUGE),
      },
      {
        what: "effective degrees of freedom, truncated",
        expected: "16",
        units: "exact",
        got: () => degrees(GAUGE).floor(),
      },
      {
        what: "effective degrees of freedom between all ways of rounding",
        expected: "16.7",
        units: 1,
        got: () => degrees(GAUGE),
      },
      {
        what: "Student's t at 99 % for 16 degrees of freedom",
        expected: "2.92",
        got: () => studentQuantile(0.995, 16),
      },
      {
        what: "expanded uncertainty at 99 %, nm",
        expected: "93",
        units: 1,
        got: AT_99,
      },
      {
        what: "combined u with second-order terms, nm",
        expected: "34",
        got: () => combinedUncertainty(SECOND_ORDER),
      },
    ],
  ),
  ...rowsOfCases("gum-h17", "JCGM 100:2008 H.1.7, second-order terms", "from memory", [
    {
      what: "second-order term of expansion and temperature, nm",
      expected: "11.7",
      got: () => SECOND_ORDER[4]?.contribution ?? "",
    },
    {
      what: "second-order term of expansion and difference, nm",
      expected: "1.7",
      got: () => SECOND_ORDER[5]?.contribution ?? "",
    },
  ]),
  ...rowsOfCases("jcgm-101-95", "JCGM 101:2008 9.5.4, the same gauge by the GUM framework", "from memory", [
    { what: "u, nm", expected: "32", got: () => combinedUncertainty(GAUGE) },
    {
      what: "99 % interval about 838 nm, least",
      expected: "745",
      units: 1,
      got: () => d(838).minus(AT_99()),
    },
    {
      what: "99 % interval about 838 nm, greatest",
      expected: "931",
      units: 1,
      got: () => d(838).plus(AT_99()),
    },
  ]),
];

/** y = b·x₁·x₂·x₃ with relative u of 0.25 %, 0.57 % and 0.82 % from 10, 5 and 15 readings. */
const PRODUCT: readonly Contribution[] = [
  { contribution: d("0.25"), degreesOfFreedom: d(9) },
  { contribution: d("0.57"), degreesOfFreedom: d(4) },
  { contribution: d("0.82"), degreesOfFreedom: d(14) },
];
const FOUR_EQUAL: readonly Contribution[] = [1, 2, 3, 4].map(() => ({
  contribution: d("1.7"),
  degreesOfFreedom: d(10),
}));

export const GUM_WELCH_SATTERTHWAITE: readonly ReferenceCase[] = [
  ...rowsOfCases("gum-g41", "JCGM 100:2008 G.4.1, example", "from memory", [
    { what: "relative combined u, %", expected: "1.03", got: () => combinedUncertainty(PRODUCT) },
    { what: "effective degrees of freedom", expected: "19.0", got: () => degrees(PRODUCT) },
    {
      what: "t at 95 % for 19 degrees of freedom",
      expected: "2.09",
      got: () => coverageFactor("t95", d(19)),
    },
    // The print takes ν = 19.0 from the rounded 1.03 %; unrounded it is 18.9987 and would be truncated to 18.
    {
      what: "relative U with 19 degrees of freedom, %",
      expected: "2.2",
      got: () => combinedUncertainty(PRODUCT).times(coverageFactor("t95", d(19))),
    },
  ]),
  ...rowsOfCases("gum-g41-digits", "JCGM 100:2008 G.4.1, the same recomputed to 40 digits", "golden", [
    { what: "relative combined u, %", expected: "1.0294658809", got: () => combinedUncertainty(PRODUCT) },
    { what: "effective degrees of freedom", expected: "18.998742314", got: () => degrees(PRODUCT) },
    {
      what: "four equal contributions with 10 degrees of freedom each",
      expected: "40",
      units: "exact",
      got: () => degrees(FOUR_EQUAL),
    },
  ]),
];

/** Type B conversions; figures of the guide recalled, all recomputed. */
export const GUM_TYPE_B: readonly ReferenceCase[] = rowsOfCases(
  "gum-type-b",
  "JCGM 100:2008 4.3 and 4.4, F.2.2.1, G.4.2",
  "from memory",
  [
    { what: "4.3.4: ±129 µΩ at 99 %, µΩ", expected: "50", got: () => fromNormalInterval(d(129), 0.99) },
    {
      what: "4.3.5: ±0.04 mm with even odds, mm",
      expected: "0.06",
      got: () => fromNormalInterval(d("0.04"), 0.5),
    },
    {
      what: "4.3.7: ±0.40·10⁻⁶ per °C, rectangular, 10⁻⁶",
      expected: "0.23",
      got: () => rectangular(d("0.40")),
    },
    { what: "4.4.5: ±4 °C, rectangular, °C", expected: "2.3", got: () => rectangular(d(4)) },
    { what: "4.4.6: ±4 °C, triangular, °C", expected: "1.6", got: () => triangular(d(4)) },
    {
      what: "4.3.9: trapezoid with β = 1 is the rectangle",
      expected: "0.577350269",
      got: () => trapezoidal(d(1), d(1)),
    },
    {
      what: "4.3.9: trapezoid with β = 0 is the triangle",
      expected: "0.408248290",
      got: () => trapezoidal(d(1), d(0)),
    },
    { what: "F.2.2.1: resolution 1", expected: "0.29", got: () => fromResolution(d(1)) },
    {
      what: "G.4.2: a doubt of 25 % counts as 8 degrees of freedom",
      expected: "8",
      units: "exact",
      got: () => degreesOfJudgedUncertainty(d("0.25")) ?? "",
    },
    {
      what: "G.4.2: a doubt of 10 %",
      expected: "50",
      units: "exact",
      got: () => degreesOfJudgedUncertainty(d("0.10")) ?? "",
    },
    {
      what: "G.4.2: a doubt of 20 %",
      expected: "12.5",
      units: "exact",
      got: () => degreesOfJudgedUncertainty(d("0.20")) ?? "",
    },
    {
      what: "G.4.2: a doubt of 50 %",
      expected: "2",
      units: "exact",
      got: () => degreesOfJudgedUncertainty(d("0.50")) ?? "",
    },
  ],
);

/**
 * Hardness of a sample block from five indentations: pooled s of the depths, the block's unevenness, the national standard;
 * Rockwell scale units of 0.002 mm. The first and the last two figures are read in a published translation of the clause,
 * s of one depth, 0.45, is recalled.
 */
const INDENTATIONS = d("0.45").div(d(5).sqrt());
const HARDNESS: readonly Contribution[] = [INDENTATIONS, d("0.11"), d("0.5")].map((contribution) => ({
  contribution,
  degreesOfFreedom: null,
}));
const SCALE_UNIT = d("0.002");

export const GUM_HARDNESS: readonly ReferenceCase[] = [
  ...rowsOfCases("gum-h6", `${JCGM_100}, H.6.6, hardness on the Rockwell C scale`, "published", [
    { what: "u of the hardness, scale units", expected: "0.55", got: () => combinedUncertainty(HARDNESS) },
    {
      what: "the same, mm",
      expected: "0.0011",
      got: () => combinedUncertainty(HARDNESS).times(SCALE_UNIT),
    },
  ]),
  ...rowsOfCases("gum-h6-recalled", `${JCGM_100}, H.6.3, s of one depth recalled`, "from memory", [
    { what: "five indentations of s = 0.45, scale units", expected: "0.20", got: () => INDENTATIONS },
  ]),
];
