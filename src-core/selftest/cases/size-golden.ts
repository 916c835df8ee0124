import type { FactorInForce, ReadingConditions, SizeResult } from "../../measurement/size.ts";
import { sizeOfDivisions } from "../../measurement/size-of-divisions.ts";
import { resolutionLimitUm } from "../../optics/resolution.ts";
import { type Decimal, decimal, ZERO } from "../../quantity/decimal.ts";
import { reportWithUncertainty } from "../../quantity/rounding.ts";
import { READ_WITHOUT_DOUBT } from "../plain-setups.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";
import { tenSettings } from "./factor-golden.ts";

const d = decimal;

/** The factor of the ten settings, as a size uses it. */
export function factorOfTenSettings(): FactorInForce {
  const { factor, uncertainty } = tenSettings("t95");
  return {
    factor,
    standardUncertainty: uncertainty.standard,
    degreesOfFreedom: uncertainty.degreesOfFreedom,
  };
}

const GRAIN: ReadingConditions = {
  ...READ_WITHOUT_DOUBT,
  smallestFraction: d("0.1"),
  alignmentHalfAngle: d(3),
  edgeHalfWidth: resolutionLimitUm(d("0.65")).div(4),
  edgeDegreesOfFreedom: d(8),
  edgeKind: "same-sense",
};

function grain(own: Partial<ReadingConditions> = {}, coverage: "t95" | "k2" = "t95"): SizeResult {
  return sizeOfDivisions({
    divisions: decimals("18.3 18.2 18.4 18.3 18.3 18.2"),
    factor: factorOfTenSettings(),
    conditions: { ...GRAIN, ...own },
    coverage,
  });
}

function grainReadOnce(): SizeResult {
  return sizeOfDivisions({
    divisions: [d("18.3")],
    factor: factorOfTenSettings(),
    conditions: { ...GRAIN, repeatability: d("0.08"), repeatabilityDegreesOfFreedom: d(24) },
    coverage: "t95",
  });
}

const contribution = (result: SizeResult, key: string): Decimal | string =>
  result.budget.find((line) => line.key === key)?.contribution ?? "no such line";

function shownSize(result: SizeResult, digits: 1 | 2 = 2): string {
  const text = reportWithUncertainty(result.size, result.uncertainty.expanded, "half-even", digits);
  return `${text.value} ± ${text.uncertainty}`;
}

const resultRows = (
  what: string,
  of: () => SizeResult,
  expected: { u: string; nu: string; k: string; expanded: string },
): CaseRow[] => [
  {
    what: `${what}: standard uncertainty, µm`,
    expected: expected.u,
    units: 1,
    got: () => of().uncertainty.standard,
  },
  {
    what: `${what}: effective degrees of freedom`,
    expected: expected.nu,
    got: () => of().uncertainty.degreesOfFreedom ?? "",
  },
  { what: `${what}: k at 95 %`, expected: expected.k, got: () => of().uncertainty.coverageFactor },
  { what: `${what}: U at 95 %, µm`, expected: expected.expanded, got: () => of().uncertainty.expanded },
];

const partRows = (
  what: string,
  of: () => SizeResult,
  parts: readonly (readonly [string, string])[],
): CaseRow[] =>
  parts.map(([key, expected]) => ({
    what: `${what}: contribution of ${key}, µm`,
    expected,
    units: 1,
    got: () => contribution(of(), key),
  }));

export const SIZE_BUDGET_CASES: readonly ReferenceCase[] = rowsOfCases(
  "size-budget",
  "Invented inputs, formula of JCGM 100:2008 5.1; computed to 40 digits and in a second program",
  "golden",
  [
    { what: "six readings: size, µm", expected: "45.74283695171902", got: () => grain().size },
    ...resultRows("six readings", grain, {
      u: "0.20551611441841",
      nu: "25.9292008874",
      k: "2.05953855275",
      expanded: "0.423268360857",
    }),
    {
      what: "six readings: U with k = 2, µm",
      expected: "0.411032228837",
      got: () => grain({}, "k2").uncertainty.expanded,
    },
    {
      what: "six readings: as shown, µm",
      expected: "45.74 ± 0.42",
      units: "exact",
      got: () => shownSize(grain()),
    },
    ...partRows("six readings", grain, [
      ["factor", "0.05781334886004"],
      ["repeatability", "0.07688753306820"],
      ["reading-left", "0.07222326133338"],
      ["reading-right", "0.07222326133338"],
      ["alignment", "0.01868597177131"],
      ["edges", "0.1490007810101"],
    ]),
    ...resultRows("independent edges", () => grain({ edgeKind: "independent" }), {
      u: "0.17645468799336",
      nu: "65.1060218184",
      k: "1.99713790839",
      expanded: "0.352404346505",
    }),
    {
      what: "one reading, pooled spread: size, µm",
      expected: "45.78453507109160",
      units: 1,
      got: () => grainReadOnce().size,
    },
    ...resultRows("one reading, pooled spread", grainReadOnce, {
      u: "0.27639161684529",
      nu: "45.3510765169",
      k: "2.01410338888",
      expanded: "0.556681292146",
    }),
    ...partRows("one reading, pooled spread", grainReadOnce, [
      ["factor", "0.05786605018079"],
      ["repeatability", "0.2001509729884"],
      ["alignment", "0.01870300547392"],
    ]),
  ],
);

/** A size read with an uncertainty of `uDivisions` and a factor known to `uFactor`. */
export function plainSize(
  divisions: string,
  factor: FactorInForce,
  own: Partial<ReadingConditions>,
): SizeResult {
  return sizeOfDivisions({
    divisions: [d(divisions)],
    factor,
    conditions: { ...READ_WITHOUT_DOUBT, ...own },
    coverage: "k2",
  });
}

const TRADE_FACTOR: FactorInForce = {
  factor: d("10.37"),
  standardUncertainty: d("0.025"),
  degreesOfFreedom: null,
};
const FIVE_FACTOR: FactorInForce = {
  factor: d("10.106299681918296"),
  standardUncertainty: d("0.0061005547"),
  degreesOfFreedom: null,
};
const IDEAL = { smallestFraction: d("0.1") };

export const TRADE_SIZES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "size-five",
    "Invented inputs: factor of the five settings, 28.5 div read once to 0.1",
    "golden",
    [
      {
        what: "size, µm",
        expected: "288.0295409346714",
        units: 1,
        got: () => plainSize("28.5", FIVE_FACTOR, IDEAL).size,
      },
      {
        what: "standard uncertainty, µm",
        expected: "0.4477255204",
        units: 3,
        got: () => plainSize("28.5", FIVE_FACTOR, IDEAL).uncertainty.standard,
      },
      {
        what: "shown to one digit of U, µm",
        expected: "288.0 ± 0.9",
        units: "exact",
        got: () => shownSize(plainSize("28.5", FIVE_FACTOR, IDEAL), 1),
      },
    ],
  ),
  ...rowsOfCases(
    "size-trade",
    "Invented inputs: 28.5 div with a factor of 10.37 and U 0.05 (k = 2)",
    "golden",
    [
      {
        what: "ideal reading: standard uncertainty, µm",
        expected: "0.8287849037",
        got: () => plainSize("28.5", TRADE_FACTOR, IDEAL).uncertainty.standard,
      },
      {
        what: "ideal reading, as shown, µm",
        expected: "295.5 ± 1.7",
        units: "exact",
        got: () => shownSize(plainSize("28.5", TRADE_FACTOR, IDEAL)),
      },
      {
        what: "0.3 div of spread: standard uncertainty, µm",
        expected: "3.1915477828",
        got: () => plainSize("28.5", TRADE_FACTOR, { repeatability: d("0.3") }).uncertainty.standard,
      },
      {
        what: "0.3 div of spread, as shown, µm",
        expected: "295.5 ± 6.4",
        units: "exact",
        got: () => shownSize(plainSize("28.5", TRADE_FACTOR, { repeatability: d("0.3") })),
      },
    ],
  ),
  ...rowsOfCases("repeats", "Invented inputs: 28.5, 28.7, 28.4 div with 10.37 µm/div", "golden", [
    {
      what: "mean size, µm",
      expected: "295.8906666667",
      units: 5,
      got: () => threeRepeats().size,
    },
    {
      what: "standard error, µm",
      expected: "0.9145480365247",
      units: 10,
      got: () => threeRepeats().uncertainty.standard,
    },
  ]),
];

function threeRepeats(): SizeResult {
  return sizeOfDivisions({
    divisions: decimals("28.5 28.7 28.4"),
    factor: { factor: d("10.37"), standardUncertainty: ZERO, degreesOfFreedom: null },
    conditions: READ_WITHOUT_DOUBT,
    coverage: "k2",
  });
}
