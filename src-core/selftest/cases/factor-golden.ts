import { squaredFactor } from "../../calibration/area-factor.ts";
import { calibrate } from "../../calibration/calibrate.ts";
import type { CalibrationConditions, CalibrationResult } from "../../calibration/calibration.ts";
import { linesFromTable } from "../../calibration/certificate-table.ts";
import { factorRecordOf } from "../../calibration/factor-record.ts";
import { interceptTest } from "../../calibration/intercept-test.ts";
import { linearityOf } from "../../calibration/linearity.ts";
import { type Decimal, decimal, ZERO } from "../../quantity/decimal.ts";
import type { CoverageRule } from "../../vocabulary/calibration.ts";
import { plainCalibration } from "../plain-setups.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

const d = decimal;

const LEFT = decimals("5.0 5.1 5.0 5.0 5.2 5.0 5.1 4.9 5.0 5.1");
const RIGHT = decimals("85.1 85.0 85.0 85.1 85.2 85.0 85.2 85.0 85.0 85.1");

/** Its conditions: every width of doubt other than zero. */
export const TEN_SETTINGS_CONDITIONS: CalibrationConditions = {
  temperature: d("22.6"),
  temperatureHalfWidth: d(1),
  expansion: d("8.5e-6"),
  expansionHalfWidth: d("1e-6"),
  micrometerDriftHalfWidth: d("0.05"),
  alignmentHalfAngle: d(1),
  fieldDistortionHalfWidth: d("0.001"),
  trainHalfWidth: d("0.0015"),
  trainDoubt: d("0.2"),
  smallestFraction: d("0.1"),
};

/** Ten settings over 80 divisions and 200 µm, every input of the budget in play. */
export function tenSettings(coverage: CoverageRule): CalibrationResult {
  return calibrate({
    settings: LEFT.map((reticleLeft, i) => ({
      reticleLeft,
      reticleRight: RIGHT[i] ?? ZERO,
      lineLeft: ZERO,
      lineRight: d(200),
    })),
    scale: {
      lines: linesFromTable("error", [
        { nominal: ZERO, value: ZERO },
        { nominal: d(200), value: d("0.12") },
      ]),
      expandedUncertainty: d("0.16"),
      coverageFactor: d(2),
    },
    conditions: TEN_SETTINGS_CONDITIONS,
    estimator: "origin-regression",
    coverage,
  });
}

/** |c·u| of each line of the budget, µm/div. */
const CONTRIBUTIONS: readonly (readonly [key: string, expected: string])[] = [
  ["certificate", "0.0009996979839480"],
  ["drift", "0.0003607349375879"],
  ["expansion", "3.753811377694e-6"],
  ["temperature", "1.227207565784e-5"],
  ["alignment", "0.0001135522524504"],
  ["field", "0.001443805514202"],
  ["train", "0.002165708271303"],
  ["repeatability", "0.0006669406374031"],
  ["reading-left", "0.0009020401813082"],
  ["reading-right", "0.0009020401813082"],
];

const contribution = (key: string): Decimal | string =>
  tenSettings("t95").budget.find((line) => line.key === key)?.contribution ?? "no such line";

const shown = (result: CalibrationResult): string => {
  const record = factorRecordOf(result);
  return `${record.shownFactor} ± ${record.shownUncertainty}`;
};

const INVENTED =
  "Invented inputs, formula of JCGM 100:2008 5.1; computed to 40 digits and by numerical derivatives in a second program";

export const FACTOR_BUDGET_CASES: readonly ReferenceCase[] = rowsOfCases(
  "factor-budget",
  `${INVENTED}: ten settings`,
  "golden",
  [
    { what: "factor, µm/div", expected: "2.500744506845901", got: () => tenSettings("t95").factor },
    {
      what: "standard uncertainty, µm/div",
      expected: "0.0031606350681030",
      got: () => tenSettings("t95").uncertainty.standard,
    },
    {
      what: "effective degrees of freedom",
      expected: "56.0036330789",
      got: () => tenSettings("t95").uncertainty.degreesOfFreedom ?? "",
    },
    {
      what: "k at 95 %",
      expected: "2.00324071885",
      got: () => tenSettings("t95").uncertainty.coverageFactor,
    },
    {
      what: "U at 95 %, µm/div",
      expected: "0.00633151286584",
      got: () => tenSettings("t95").uncertainty.expanded,
    },
    {
      what: "U with k = 2, µm/div",
      expected: "0.00632127013621",
      got: () => tenSettings("k2").uncertainty.expanded,
    },
    {
      what: "as shown, µm/div",
      expected: "2.5007 ± 0.0063",
      units: "exact",
      got: () => shown(tenSettings("t95")),
    },
    ...CONTRIBUTIONS.map(
      ([key, expected]): CaseRow => ({
        what: `contribution of ${key}, µm/div`,
        expected,
        units: 1,
        got: () => contribution(key),
      }),
    ),
    {
      what: "area factor f², µm²/div²",
      expected: "6.25372308851995",
      units: 1,
      got: () => squaredFactor(tenSettings("t95").factor, tenSettings("t95").uncertainty.standard).areaFactor,
    },
    {
      what: "u of the area factor, µm²/div²",
      expected: "0.01580788156941",
      units: 1,
      got: () =>
        squaredFactor(tenSettings("t95").factor, tenSettings("t95").uncertainty.standard).standardUncertainty,
    },
  ],
);

const SPANS_UM = "20.02 40.03 60.05 80.06 100.06 120.08 140.09 160.10 180.11 200.12".split(" ");
const SPANS_DIV = "8.0 16.1 24.0 32.0 40.1 48.0 56.0 64.1 72.0 80.0".split(" ");

function tenSpans(expandedUncertainty = "0"): CalibrationResult {
  return plainCalibration({ lengths: SPANS_UM, divisions: SPANS_DIV, expandedUncertainty });
}

const PAIRS = SPANS_UM.map((length, i) => ({ length: d(length), divisions: d(SPANS_DIV[i] ?? "0") }));
const SETTINGS = PAIRS.map(({ length, divisions }) => ({
  reticleLeft: ZERO,
  reticleRight: divisions,
  lineLeft: ZERO,
  lineRight: length,
}));

/** Residuals in µm of the ten spans, in order. */
const RESIDUALS_UM =
  "-0.017092282 0.22585178 -0.041276846 -0.048369128 0.20457494 -0.062553692 -0.069645974 0.17329809 -0.083830538 -0.09092282".split(
    " ",
  );

const linearity = () => linearityOf(SETTINGS, tenSpans());
const scatter = (): Decimal | string =>
  tenSpans().budget.find((line) => line.key === "repeatability")?.contribution ?? "no such line";

export const TEN_SPANS_CASES: readonly ReferenceCase[] = rowsOfCases(
  "ten-spans",
  "Invented inputs, least squares as in JCGM 100:2008 H.3; computed in two languages",
  "golden",
  [
    { what: "factor, µm/div", expected: "2.50036346474943", got: () => tenSpans().factor },
    {
      what: "standard deviation of the readings, div",
      expected: "0.051853078161247",
      got: () => tenSpans().residualDeviation,
    },
    { what: "u of the factor from the scatter, µm/div", expected: "0.00082555474898391", got: scatter },
    { what: "ratio of sums, µm/div", expected: "2.49993186463775", got: () => tenSpans().ratioOfSums },
    {
      what: "u with a certificate of U = 0.16 µm, µm/div",
      expected: "0.0012963919804617",
      got: () => tenSpans("0.16").uncertainty.standard,
    },
    {
      what: "intercept, div",
      expected: "0.035473508360147",
      got: () => interceptTest(PAIRS)?.intercept ?? "",
    },
    {
      what: "standard deviation of the intercept, div",
      expected: "0.035419226425287",
      got: () => interceptTest(PAIRS)?.standardDeviation ?? "",
    },
    { what: "t of the intercept", expected: "1.00153255563", got: () => interceptTest(PAIRS)?.t ?? "" },
    {
      what: "p of the intercept, 8 degrees of freedom",
      expected: "0.3458963991",
      got: () => interceptTest(PAIRS)?.p ?? "",
    },
    {
      what: "slope beside the intercept, div/µm",
      expected: "0.399688626459407",
      got: () => interceptTest(PAIRS)?.slope ?? "",
    },
    {
      what: "standard deviation of that slope, div/µm",
      expected: "0.00028523585742815",
      got: () => interceptTest(PAIRS)?.slopeDeviation ?? "",
    },
    {
      what: "standard deviation about that line, div",
      expected: "0.051844243905941",
      got: () => interceptTest(PAIRS)?.residualDeviation ?? "",
    },
    { what: "largest residual, µm", expected: "0.22585178", got: () => linearity().largestResidualUm },
    ...RESIDUALS_UM.map(
      (expected, i): CaseRow => ({
        what: `residual of span ${i + 1}, µm`,
        expected,
        got: () => linearity().residualsUm[i] ?? "",
      }),
    ),
  ],
);
