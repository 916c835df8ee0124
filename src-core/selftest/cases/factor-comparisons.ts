import { agreementOf, intermediateCheck } from "../../calibration/agreement.ts";
import type { CalibrationResult } from "../../calibration/calibration.ts";
import { factorRecordOf } from "../../calibration/factor-record.ts";
import { type Decimal, decimal, ZERO } from "../../quantity/decimal.ts";
import { conformityProbability } from "../../uncertainty/conformity.ts";
import type { CoverageRule } from "../../vocabulary/calibration.ts";
import { plainCalibration } from "../plain-setups.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { rowsOfCases } from "../rows-of-cases.ts";

const d = decimal;

const shown = (result: CalibrationResult): string => {
  const record = factorRecordOf(result);
  return `${record.shownFactor} ± ${record.shownUncertainty}`;
};

/** Five settings over 960 µm whose certified length is 960.3 µm. */
function fiveSettings(coverage: CoverageRule = "k2"): CalibrationResult {
  return plainCalibration({
    lengths: ["960.3", "960.3", "960.3", "960.3", "960.3"],
    divisions: ["95.0", "95.1", "95.0", "94.9", "95.1"],
    expandedUncertainty: "0.30",
    conditions: { temperatureHalfWidth: d(3), expansion: d("9e-6"), smallestFraction: d("0.1") },
    estimator: "mean-of-ratios",
    coverage,
  });
}

function ratios(result: CalibrationResult): Decimal[] {
  return result.settings.map((one) => one.ratio).sort((a, b) => a.comparedTo(b));
}

/** By relative terms a table gives u; our reading term uses the exact lever, which differs in the sixth digit. */
export const FIVE_SETTINGS_CASES: readonly ReferenceCase[] = rowsOfCases(
  "five-settings",
  "Invented inputs, mean of ratios and relative terms of JCGM 100:2008; computed in double precision",
  "golden",
  [
    {
      what: "mean of ratios, µm/div",
      expected: "10.10629968192",
      units: 1,
      got: () => fiveSettings().meanOfRatios,
    },
    {
      what: "ratio of sums, µm/div",
      expected: "10.10629341191",
      units: 1,
      got: () => fiveSettings().ratioOfSums,
    },
    {
      what: "line through the origin at equal spans is the ratio of sums",
      expected: "10.10629341191",
      units: 1,
      got: () => fiveSettings().originRegression,
    },
    {
      what: "relative standard deviation, %",
      expected: "0.08807483397129",
      units: 10,
      got: () => fiveSettings().relativeDeviation?.times(100) ?? "",
    },
    {
      what: "range of the ratios, µm/div",
      expected: "0.02128091000655",
      units: 1,
      got: () => ratios(fiveSettings())[4]?.minus(ratios(fiveSettings())[0] ?? 0) ?? "",
    },
    {
      what: "standard uncertainty, µm/div",
      expected: "0.0061005547",
      units: 100,
      got: () => fiveSettings().uncertainty.standard,
    },
    {
      what: "U with k = 2, µm/div",
      expected: "0.0122011094",
      units: 200,
      got: () => fiveSettings().uncertainty.expanded,
    },
    {
      what: "as shown, µm/div",
      expected: "10.106 ± 0.012",
      units: "exact",
      got: () => shown(fiveSettings()),
    },
  ],
);

const CHANGE = {
  earlier: { factor: d("2.5007"), standardUncertainty: d("0.0032") },
  later: { factor: d("2.5089"), standardUncertainty: d("0.0030") },
  sharedUncertainty: d("0.0011"),
};

const LIMITS = { lower: d("2.4881965"), upper: d("2.5132035") };

export const AGREEMENT_CASES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "agreement",
    "Invented inputs, E_n of ISO 13528 and E_n with the shared part taken out",
    "golden",
    [
      { what: "E_n", expected: "0.934719542804", got: () => agreementOf(CHANGE).normalisedError },
      { what: "zeta", expected: "1.86943908561", got: () => agreementOf(CHANGE).zeta },
      {
        what: "E_n with the shared part taken out",
        expected: "0.999702690643",
        got: () => agreementOf(CHANGE).normalisedErrorApart,
      },
      {
        what: "change, %",
        expected: "0.3279081857",
        got: () => agreementOf(CHANGE).relativeChange.times(100),
      },
      {
        what: "E_n of 10.15 against 10.10, U 0.02 each",
        expected: "1.767766952966",
        units: 1,
        got: () =>
          agreementOf({
            earlier: { factor: d("10.10"), standardUncertainty: d("0.01") },
            later: { factor: d("10.15"), standardUncertainty: d("0.01") },
            sharedUncertainty: ZERO,
          }).normalisedError,
      },
      {
        what: "limit of a quick check, µm/div",
        expected: "0.00707672240518",
        got: () =>
          intermediateCheck(
            { factor: d("2.5007"), standardUncertainty: d("0.0026") },
            { factor: d("2.5052"), standardUncertainty: d("0.0024") },
          ).limit,
      },
      {
        what: "ratio of a quick check",
        expected: "0.635887596312",
        got: () =>
          intermediateCheck(
            { factor: d("2.5007"), standardUncertainty: d("0.0026") },
            { factor: d("2.5052"), standardUncertainty: d("0.0024") },
          ).ratio,
      },
    ],
  ),
  ...rowsOfCases(
    "conformity",
    "Invented inputs, JCGM 106:2012 conformance probability of a normal distribution",
    "golden",
    [
      {
        what: "p_c of 2.5040",
        expected: "0.997986456021914",
        units: 10,
        got: () => conformityProbability(d("2.5040"), d("0.0032"), LIMITS),
      },
      {
        what: "p_c of 2.5100",
        expected: "0.8416092568103",
        units: 10,
        got: () => conformityProbability(d("2.5100"), d("0.0032"), LIMITS),
      },
    ],
  ),
  ...rowsOfCases(
    "jcgm-106",
    "JCGM 106:2012, Evaluation of measurement data – The role of measurement uncertainty in conformity assessment, 7.3.2 and 7.4, examples",
    "from memory",
    [
      {
        what: "one upper limit, −5.47 V with u 0.05 V against −5.40 V: p_c (7.3.2, 92 %)",
        expected: "0.92",
        got: () => conformityProbability(d("-5.47"), d("0.05"), { lower: null, upper: d("-5.40") }),
      },
      {
        what: "one lower limit, 509.7 kPa with u 8.6 kPa against 490 kPa: p_c (7.3.2, 99 %)",
        expected: "0.99",
        got: () => conformityProbability(d("509.7"), d("8.6"), { lower: d("490"), upper: null }),
      },
      {
        what: "two limits, 13.6 mm²/s with u 1.8 mm²/s between 12.5 and 16.3: p_c (7.4, 66 %)",
        expected: "0.66",
        got: () => conformityProbability(d("13.6"), d("1.8"), { lower: d("12.5"), upper: d("16.3") }),
      },
    ],
  ),
];
