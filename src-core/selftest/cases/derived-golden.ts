import {
  type DerivedPart,
  type DerivedQuantity,
  powerProduct,
  weightedSum,
} from "../../measurement/derived-quantity.ts";
import { divisionsNeeded, readingPairUncertainty } from "../../measurement/divisions-needed.ts";
import { focusDepth } from "../../measurement/focus-depth.ts";
import { meanLengthUncertainty } from "../../measurement/mean-length.ts";
import { derivedOfParts } from "../../measurement/row-quantities.ts";
import { type Decimal, decimal, ONE, ZERO } from "../../quantity/decimal.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";
import { factorOfTenSettings, plainSize } from "./size-golden.ts";

const d = decimal;

/** 18.28333… and others, read with u = 0.05 div by the factor of the ten settings. */
function part(divisions: string): DerivedPart {
  const factor = { ...factorOfTenSettings(), degreesOfFreedom: null };
  return { result: plainSize(divisions, factor, { repeatability: d("0.05") }), calibrationId: "one" };
}
const LONG = "18.28333333333333333333333333333333";

function difference(first: DerivedPart, second: DerivedPart): DerivedQuantity {
  return weightedSum([first, second], [ONE, d("-1")], "k2");
}
function ratio(): DerivedQuantity {
  return derivedOfParts("ratio", [part(LONG), part("12.15")], "k2");
}
function rectangle(): DerivedQuantity {
  return powerProduct([part(LONG), part("7.45")], [1, 1], ONE, "k2");
}

export const DERIVED_CASES: readonly ReferenceCase[] = rowsOfCases(
  "derived",
  "Invented inputs: sizes by one factor, JCGM 100:2008 5.2.2 with the factor counted once",
  "golden",
  [
    {
      what: "difference of 18.283 and 12.15 div, µm",
      expected: "15.33789964199",
      got: () => difference(part(LONG), part("12.15")).value,
    },
    {
      what: "u of the difference, µm",
      expected: "0.177888736359",
      got: () => difference(part(LONG), part("12.15")).uncertainty.standard,
    },
    {
      what: "u of the difference if each had its own factor, µm",
      expected: "0.189954305543",
      got: () => difference(part(LONG), { ...part("12.15"), calibrationId: "other" }).uncertainty.standard,
    },
    {
      what: "ratio",
      expected: "1.504801097394",
      got: () => ratio().value,
    },
    {
      what: "u of the ratio",
      expected: "0.00743527718098",
      got: () => ratio().uncertainty.standard,
    },
    {
      what: "area of 18.283 by 7.45 div, µm²",
      expected: "851.8248333232",
      got: () => rectangle().value,
    },
    {
      what: "u of the area, µm²",
      expected: "6.53807145433",
      got: () => rectangle().uncertainty.standard,
    },
    {
      what: "f³ of the ten settings, µm³/div³",
      expected: "15.6389636609516",
      units: 1,
      got: () => cubedFactor().value,
    },
    {
      what: "u of f³, µm³/div³",
      expected: "0.05929720949934",
      units: 1,
      got: () => cubedFactor().uncertainty.standard,
    },
    {
      what: "circle of 39.6 div at 2.525 µm/div, µm²",
      expected: "7852.4109161875",
      units: 1,
      got: () => circleOf("39.6", "2.525"),
    },
  ],
);

/** The volume of one division cubed: only the factor, to the third power. */
function cubedFactor(): ReturnType<typeof powerProduct> {
  const division = plainSize("1", { ...factorOfTenSettings(), degreesOfFreedom: null }, {});
  return powerProduct([{ result: division, calibrationId: "one" }], [3], ONE, "k2");
}

function circleOf(divisions: string, factor: string): Decimal {
  const exact = { factor: d(factor), standardUncertainty: ZERO, degreesOfFreedom: null };
  return derivedOfParts(
    "circle-area",
    [{ result: plainSize(divisions, exact, {}), calibrationId: "one" }],
    "k2",
  ).value;
}

/** p %, then the divisions needed for r = 0.1, 0.2, 0.25, 0.5, 1. */
const NEEDED = [
  ["1", "8.165 16.330 20.412 40.825 81.650"],
  ["2", "4.082 8.165 10.206 20.412 40.825"],
  ["5", "1.633 3.266 4.082 8.165 16.330"],
  ["10", "0.816 1.633 2.041 4.082 8.165"],
] as const;
const STEPS = ["0.1", "0.2", "0.25", "0.5", "1"];
/** p %, then the divisions needed for a spread of 0.2, 0.3, 0.5 div. */
const NEEDED_SPREAD = [
  ["1", "40 60 100"],
  ["2", "20 30 50"],
  ["5", "8 12 20"],
  ["10", "4 6 10"],
] as const;
const SPREADS = ["0.2", "0.3", "0.5"];

export const PLANNING_CASES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "divisions-needed",
    "N = 2u·100/p with u = r/√6 of two edges read to r (JCGM 100:2008 F.2.2.1), or with the spread of a person",
    "golden",
    [
      ...NEEDED.flatMap(([percent, row]) =>
        row.split(" ").map(
          (expected, i): CaseRow => ({
            what: `divisions for ${percent} % read to ${STEPS[i]} div`,
            expected,
            got: () => divisionsNeeded(readingPairUncertainty(d(STEPS[i] ?? "0")), d(percent)),
          }),
        ),
      ),
      ...NEEDED_SPREAD.flatMap(([percent, row]) =>
        row.split(" ").map(
          (expected, i): CaseRow => ({
            what: `divisions for ${percent} % with a spread of ${SPREADS[i]} div`,
            expected,
            units: "exact",
            got: () => divisionsNeeded(readingPairUncertainty(ZERO, d(SPREADS[i] ?? "0")), d(percent)),
          }),
        ),
      ),
    ],
  ),
  ...rowsOfCases(
    "mean-length",
    "Invented inputs: 30 objects, mean 15.74 µm, s 4.61747803982605 µm, factor of the ten settings, edges 0.149 µm",
    "golden",
    [
      {
        what: "standard uncertainty of the mean as a length, µm",
        expected: "0.856329626800665",
        units: 5,
        got: () => meanOfThirty().standard,
      },
      {
        what: "U with k = 2, µm",
        expected: "1.71265925360133",
        units: 5,
        got: () => meanOfThirty().expanded,
      },
    ],
  ),
  ...rowsOfCases("depth", "Textbook rule for depth by fine focus", "from memory", [
    {
      what: "4.0 µm of drum in a mount of 1.515 under a dry objective, µm",
      expected: "6.06",
      units: "exact",
      got: () =>
        focusDepth({
          upper: d(0),
          lower: d("4.0"),
          drumStep: d(1),
          focusing: ZERO,
          mountIndex: d("1.515"),
          mountIndexHalfWidth: ZERO,
          immersionIndex: d("1.000"),
          immersionIndexHalfWidth: ZERO,
          coverage: "k2",
        }).depth,
    },
  ]),
];

function meanOfThirty(): ReturnType<typeof meanLengthUncertainty> {
  const { factor, standardUncertainty } = factorOfTenSettings();
  return meanLengthUncertainty({
    deviation: d("4.61747803982605"),
    count: 30,
    factorUncertainty: d("15.74").times(standardUncertainty).div(factor),
    factorDegreesOfFreedom: null,
    edgeUncertainty: d("0.1490007810101"),
    edgeDegreesOfFreedom: null,
    coverage: "k2",
  });
}
