import { gridArea, squaredFactor } from "../../calibration/area-factor.ts";
import { circleArea, fieldOfView, measuredCircle } from "../../optics/field-of-view.ts";
import { nominalFactor } from "../../optics/nominal-factor.ts";
import { resolutionLimitUm } from "../../optics/resolution.ts";
import { type Decimal, decimal, ZERO } from "../../quantity/decimal.ts";
import { NIOSH_7400 } from "../../vocabulary/literature.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

const d = decimal;

const printed = (what: string, expected: string, got: CaseRow["got"], units = 0.5): CaseRow => ({
  what,
  expected,
  got,
  units,
});

function nominal(magnification: string): Decimal {
  return nominalFactor({
    reticleLengthMm: d(10),
    divisions: 100,
    objective: d(magnification),
    intermediate: d(1),
  });
}

/** Field number, magnification, diameter (mm), area (mm²). */
const FIELDS = [
  ["18", "10", "1.8", "2.544690049408"],
  ["20", "10", "2", "3.141592653590"],
  ["20", "40", "0.5", "0.1963495408494"],
  ["22", "10", "2.2", "3.801327110844"],
  ["22", "40", "0.55", "0.2375829444277"],
  ["22", "100", "0.22", "0.03801327110844"],
  ["25", "20", "1.25", "1.227184630309"],
  ["26.5", "40", "0.6625", "0.3447161626537"],
] as const;

/** Magnification and nominal factor of a 10 mm scale in 100 parts. */
const NOMINALS = [
  ["4", "25"],
  ["10", "10"],
  ["20", "5"],
  ["25", "4"],
  ["40", "2.5"],
  ["50", "2"],
  ["60", "1.666666666667"],
  ["63", "1.587301587302"],
  ["100", "1"],
] as const;

/** Aperture and 0.61·0.55 µm/NA. */
const RESOLUTIONS = [
  ["0.10", "3.355"],
  ["0.25", "1.342"],
  ["0.40", "0.839"],
  ["0.65", "0.516"],
  ["0.75", "0.447"],
  ["0.95", "0.353"],
  ["1.25", "0.268"],
  ["1.40", "0.240"],
] as const;

export const OPTICS_CASES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "field-of-view",
    "Field number over magnification, ISO 10934 (from memory); computed in double precision",
    "golden",
    FIELDS.flatMap(([fieldNumber, magnification, diameter, area]): CaseRow[] => [
      {
        what: `field number ${fieldNumber} at ${magnification}×, diameter, mm`,
        expected: diameter,
        units: "exact",
        got: () => fieldOfView(d(fieldNumber), d(magnification), d(1)).diameterMm,
      },
      printed(
        `field number ${fieldNumber} at ${magnification}×, area, mm²`,
        area,
        () => fieldOfView(d(fieldNumber), d(magnification), d(1)).areaMm2,
        2,
      ),
    ]),
  ),
  ...rowsOfCases(
    "nominal-factor",
    "Reticle pitch over magnification, 10 mm in 100 parts",
    "golden",
    NOMINALS.map(([magnification, expected]) =>
      printed(`nominal factor at ${magnification}×, µm/div`, expected, () => nominal(magnification)),
    ),
  ),
  ...rowsOfCases(
    "resolution",
    "0.61 λ/NA at 0.55 µm",
    "golden",
    RESOLUTIONS.map(([na, expected]) =>
      printed(`resolution limit at NA ${na}, µm`, expected, () => resolutionLimitUm(d(na))),
    ),
  ),
  ...rowsOfCases(
    "counting-circle",
    `${NIOSH_7400}, equipment item 13: counting circle of 100 µm`,
    "published",
    [printed("circle of 100 µm, mm²", "0.00785", () => circleArea(d("0.1")))],
  ),
  ...rowsOfCases("counting-circle-limits", "π/4·d² in double precision", "golden", [
    printed("circle of 98 µm, mm²", "0.0075429640", () => circleArea(d("0.098"))),
    printed("circle of 102 µm, mm²", "0.0081712825", () => circleArea(d("0.102"))),
  ]),
  ...rowsOfCases("measured-area", "Invented inputs: 2.525 µm/div", "golden", [
    printed("circle of 39.6 div, µm", "99.99", () =>
      measuredCircle(d("39.6"), d("2.525")).diameterMm.times(1000),
    ),
    printed(
      "circle of 39.6 div, mm²",
      "0.007852410916188",
      () => measuredCircle(d("39.6"), d("2.525")).areaMm2,
      1,
    ),
    printed("grid of 100 by 100 div, mm²", "0.06375625", () =>
      gridArea(d(100), d(100), squaredFactor(d("2.525"), ZERO).areaFactor).div(1e6),
    ),
    printed("the same with the factor rounded to 2.5, mm²", "0.0625", () =>
      gridArea(d(100), d(100), squaredFactor(d("2.5"), ZERO).areaFactor).div(1e6),
    ),
  ]),
];
