import { gridArea, squaredFactor } from "../../calibration/area-factor.ts";
import { linesFromTable } from "../../calibration/certificate-table.ts";
import { certifiedInterval } from "../../calibration/certified-interval.ts";
import { detect } from "../../calibration/detective.ts";
import { workingFactor } from "../../calibration/working-factor.ts";
import { sizeOfDivisions } from "../../measurement/size-of-divisions.ts";
import { graticuleCircleMm } from "../../optics/graticule-order.ts";
import { type Decimal, decimal, ZERO } from "../../quantity/decimal.ts";
import { formatToPlaces, roundToPlaces } from "../../quantity/rounding.ts";
import { NO_SOURCE } from "../../vocabulary/literature.ts";
import { plainCalibration, READ_WITHOUT_DOUBT } from "../plain-setups.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

const d = decimal;

/** Factor of one setting of `lengthUm` over `divisions`, µm/div. */
function factor(lengthUm: string, divisions: string): Decimal {
  return plainCalibration({ lengths: [lengthUm], divisions: [divisions] }).factor;
}

/** Size of `divisions` with an exact factor, µm. */
function size(divisions: string, perDivision: Decimal): Decimal {
  return sizeOfDivisions({
    divisions: [d(divisions)],
    factor: { factor: perDivision, standardUncertainty: ZERO, degreesOfFreedom: null },
    conditions: READ_WITHOUT_DOUBT,
    coverage: "k2",
  }).size;
}

const printed = (what: string, expected: string, got: CaseRow["got"], units = 0.5): CaseRow => ({
  what,
  expected,
  got,
  units,
});

export const TEACHING_PAGES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "teaching-page",
    `${NO_SOURCE}: worked examples of teaching pages on ocular micrometers`,
    "common practice",
    [
      printed("12 parts of 10 µm over 22 div, µm/div", "5.5", () => factor("120", "22")),
      printed("1 part of 10 µm over 7 div, µm/div", "1.4", () => factor("10", "7")),
      printed("1 mm over 42 div, µm/div", "23.8", () => factor("1000", "42")),
      printed("5 div with the rounded 1.4, µm", "7", () =>
        size("5", workingFactor(factor("10", "7"), 1).working),
      ),
    ],
  ),
  ...rowsOfCases("rounded-half-up", `${NO_SOURCE}: a size rounded half up`, "common practice", [
    printed("99 parts of 10 µm over 100 div, µm/div", "9.9", () => factor("990", "100")),
    {
      what: "35.5 div with 9.9, rounded half up to 0.1 µm as printed",
      expected: "351.5",
      units: "exact",
      got: () => formatToPlaces(size("35.5", d("9.9")), 1, "half-up"),
    },
  ]),
  ...rowsOfCases("teaching-sheet", `${NO_SOURCE}: teaching sheets on micrometry`, "common practice", [
    printed("125 µm over 50 div, µm/div", "2.5", () => factor("125", "50")),
    printed("25 µm over 10 div, µm/div", "2.5", () => factor("25", "10")),
  ]),
  ...rowsOfCases("spore-pages", `${NO_SOURCE}: teaching pages on measuring spores`, "common practice", [
    printed("100 µm over 63 div, µm/div", "1.587", () => factor("100", "63")),
    printed(
      "the same as a working factor, µm/div",
      "1.6",
      () => workingFactor(factor("100", "63"), 1).working,
    ),
  ]),
  ...rowsOfCases("21-over-29", `${NO_SOURCE}: teaching pages, 21 over 29`, "common practice", [
    printed("21 parts of 10 µm over 29 div, µm/div", "7.24", () => factor("210", "29")),
  ]),
  ...rowsOfCases(
    "stage-per-reticle",
    `${NO_SOURCE}: a factor quoted as stage divisions per reticle division`,
    "common practice",
    [
      printed(
        "75 div over 80 parts of 10 µm: stage part per reticle division",
        "0.938",
        () => d(10).div(factor("800", "75")),
        1,
      ),
    ],
  ),
  ...rowsOfCases("porton-field", `${NO_SOURCE}: field of a Porton graticule`, "common practice", [
    printed("field (100 L)² with L = 0.66 µm, mm²", "0.00436", () =>
      gridArea(d(100), d(100), squaredFactor(d("0.66"), ZERO).areaFactor).div(1e6),
    ),
  ]),
  ...rowsOfCases(
    "niosh-7400-a",
    "NIOSH 7400 (issue 2) Appendix A, ordering a counting circle",
    "from memory",
    [
      printed("circle for L_o 112 µm, L_a 4.5 mm, D 100 µm, mm", "4.02", () =>
        graticuleCircleMm(d("4.5"), d(112), d(100)),
      ),
    ],
  ),
];

export const TRADE_ARITHMETIC: readonly ReferenceCase[] = [
  ...rowsOfCases("trade", NO_SOURCE, "common practice", [
    printed("99 div on 1 mm, µm/div", "10.10101010101", () => factor("1000", "99")),
    printed("the same as shown, µm/div", "10.1", () => roundToPlaces(factor("1000", "99"), 1)),
    { what: "35 div with 10.1, µm", expected: "353.5", units: "exact", got: () => size("35", d("10.1")) },
    printed("35 div with the whole 10.1010…, shown to 0.1 µm", "353.5", () =>
      roundToPlaces(size("35", factor("1000", "99")), 1),
    ),
  ]),
  ...rowsOfCases(
    "inch",
    "Exact by definition: 1 in = 25.4 mm (NIST SP 811 B.6; clause from memory)",
    "from memory",
    [
      {
        what: "one line of 0.001 in per division, µm/div",
        expected: "25.4",
        units: "exact",
        got: () => factor("25.4", "1"),
      },
    ],
  ),
  ...rowsOfCases("reticle-digits", "Plain ratios computed in double precision", "golden", [
    printed("12 parts over 22 div, µm/div", "5.454545454545", () => factor("120", "22"), 1),
    printed("10/7 and 5 div, µm", "7.142857142857", () => size("5", factor("10", "7")), 1),
    printed(
      "error of the working factor 1.4 for 10/7",
      "-0.02",
      () => workingFactor(factor("10", "7"), 1).relativeError,
    ),
    printed(
      "error of the working factor 1.6 for 100/63",
      "0.008",
      () => workingFactor(factor("100", "63"), 1).relativeError,
    ),
    printed("100 µm over 63 div, µm/div", "1.587301587302", () => factor("100", "63"), 1),
    printed("210 µm over 29 div, µm/div", "7.241379310345", () => factor("210", "29"), 1),
    printed("800 µm over 75 div, µm/div", "10.66666666667", () => factor("800", "75"), 1),
    printed("920 µm over 95 div, µm/div", "9.684210526316", () => factor("920", "95"), 1),
    printed("35.5 div with 9.9, half to even", "351.4", () => roundToPlaces(size("35.5", d("9.9")), 1)),
    printed("circle to order, mm", "4.017857142857", () => graticuleCircleMm(d("4.5"), d(112), d(100)), 1),
    printed(
      "factors 10.1 and 2.52 against 10× and 40×",
      "1.001984126984",
      () => detect(d("10.1").div("2.52"), d(4)).ratio,
      1,
    ),
    printed(
      "field widths 0.488 and 0.187 mm against 40× and 100×",
      "1.043850267380",
      () => detect(d("0.488").div("0.187"), d("2.5")).ratio,
      1,
    ),
  ]),
];

const TABLE = linesFromTable("error", [
  { nominal: d(0), value: d(0) },
  { nominal: d(100), value: d("0.1") },
  { nominal: d(900), value: d("0.2") },
  { nominal: d(1000), value: d("0.4") },
]);
const CORRECTIONS = linesFromTable("indication-error", [
  { nominal: d(0), value: d(0) },
  { nominal: d(100), value: d("0.1") },
  { nominal: d(900), value: d("0.2") },
  { nominal: d(1000), value: d("0.4") },
]);

function certified(lines: typeof TABLE, from: number, to: number): Decimal {
  return certifiedInterval({ lines, expandedUncertainty: ZERO, coverageFactor: d(2) }, d(from), d(to)).length;
}

export const CERTIFICATE_TABLE_CASES: readonly ReferenceCase[] = rowsOfCases(
  "certificate-table",
  "Invented inputs: errors +0.1 µm at 100, +0.2 µm at 900, +0.4 µm at 1000, linear between lines",
  "golden",
  [
    {
      what: "position of line 960, µm",
      expected: "960.32",
      units: "exact",
      got: () => certified(TABLE, 0, 960),
    },
    {
      what: "interval 100 to 960, µm",
      expected: "860.22",
      units: "exact",
      got: () => certified(TABLE, 100, 960),
    },
    {
      what: "the same table as indicated − true, µm",
      expected: "859.78",
      units: "exact",
      got: () => certified(CORRECTIONS, 100, 960),
    },
  ],
);
