import { gridArea, squaredFactor } from "#core/calibration/area-factor.ts";
import { projectedAreaDiameter, rootTwoCircle } from "#core/methods/particle-diameters.ts";
import { circleArea, fieldOfView, measuredCircle } from "#core/optics/field-of-view.ts";
import { divisionsOfDrum, drumStep } from "#core/optics/filar-drum.ts";
import { graticuleCircleMm } from "#core/optics/graticule-order.ts";
import { type Decimal, decimal, TWO } from "#core/quantity/decimal.ts";
import { roundToSignificant } from "#core/quantity/rounding.ts";
import { uncertaintyOf } from "#core/uncertainty/coverage.ts";
import { rectangular } from "#core/uncertainty/type-b.ts";
import { type BenchTrain, type Calculator, relativeFactor, withU } from "./calculator.ts";

const digits = (value: Decimal, count: number): string => roundToSignificant(value, count).toFixed();

/** What a reticle's whole scale covers at the specimen, µm. */
function scaleAtSpecimen(train: BenchTrain | null): string {
  return train ? digits(decimal(train.factor.factor).times(train.divisions), 5) : "";
}

const field: Calculator = {
  id: "field",
  title: "Field of view from the field number",
  source: "Field number over objective times intermediate magnification: common practice, no source",
  caution:
    "An estimate. A field measured with the reticle or a stage micrometer is better: use that for areas counted.",
  train: "helps",
  fields: [
    { key: "fieldNumber", label: "Field number", unit: "mm", usual: (train) => train?.fieldNumber ?? "" },
    { key: "objective", label: "Objective magnification", usual: (train) => train?.magnification ?? "" },
    {
      key: "intermediate",
      label: "Intermediate magnification",
      usual: (train) => train?.intermediate ?? "1",
    },
  ],
  work: (value) => {
    const { diameterMm, areaMm2 } = fieldOfView(
      value("fieldNumber"),
      value("objective"),
      value("intermediate"),
    );
    return [
      ["Diameter", `${digits(diameterMm.times(1000), 4)} µm`],
      ["Area", `${digits(areaMm2, 4)} mm²`],
    ];
  },
};

const circle: Calculator = {
  id: "circle",
  title: "Field or circle measured in divisions, with U",
  source:
    "Diameter n·f, area π/4·(n·f)²; factor and reading count twice in U of the area (JCGM 100:2008 5.1.2)",
  train: "needed",
  fields: [
    { key: "divisions", label: "Diameter", unit: "div" },
    { key: "doubt", label: "Read to ±", unit: "div", rule: { sign: "not negative" }, usual: "0.5" },
  ],
  work: (value, train) => {
    if (!train) return [];
    const divisions = value("divisions");
    const { diameterMm, areaMm2 } = measuredCircle(divisions, decimal(train.factor.factor));
    const { relative, degreesOfFreedom } = relativeFactor(train);
    const { expanded } = uncertaintyOf(
      [
        { contribution: relative, degreesOfFreedom },
        { contribution: rectangular(value("doubt")).div(divisions), degreesOfFreedom: null },
      ],
      "t95",
    );
    return [
      ["Diameter", withU(diameterMm.times(1000), { expanded: diameterMm.times(1000).times(expanded) }, "µm")],
      ["Area", withU(areaMm2, { expanded: areaMm2.times(TWO).times(expanded) }, "mm²")],
    ];
  },
};

const squares: Calculator = {
  id: "squares",
  title: "Area counted in squares of a grid or scale",
  source:
    "Squares times the square of the factor, which counts twice in U (JCGM 100:2008 5.2.2); the diameter is that of the circle of the same area (USP <776>, from memory)",
  caution: "One factor for both directions: turn the eyepiece and compare both once.",
  train: "needed",
  fields: [
    { key: "squares", label: "Squares covered", hint: "Of one division by one division." },
    { key: "doubt", label: "Counted to ±", rule: { sign: "not negative" }, usual: "0.5" },
  ],
  work: (value, train) => {
    if (!train) return [];
    const factor = decimal(train.factor.factor);
    const { areaFactor, standardUncertainty } = squaredFactor(
      factor,
      decimal(train.factor.standardUncertainty),
    );
    const count = value("squares");
    const area = gridArea(count, decimal(1), areaFactor);
    const uncertainty = uncertaintyOf(
      [
        {
          contribution: standardUncertainty.times(count),
          degreesOfFreedom: relativeFactor(train).degreesOfFreedom,
        },
        { contribution: rectangular(value("doubt")).times(areaFactor), degreesOfFreedom: null },
      ],
      "t95",
    );
    const diameter = projectedAreaDiameter(area);
    return [
      ["Area", withU(area, uncertainty, "µm²")],
      [
        "Diameter of the circle of this area",
        withU(diameter, { expanded: uncertainty.expanded.times(diameter).div(TWO.times(area)) }, "µm"),
      ],
    ];
  },
};

const order: Calculator = {
  id: "order",
  title: "Counting circle to order",
  source:
    "NIOSH 7400 (issue 2), Appendix A: d = (real over apparent length) times the circle wanted; from memory",
  caution:
    "The circle is right for this microscope, objective and person's settings alone. Measure it at the specimen when it has come, and follow the limits of your method.",
  train: "helps",
  fields: [
    {
      key: "realLengthMm",
      label: "Real length of the graticule in use",
      unit: "mm",
      usual: (train) => train?.scaleLengthMm ?? "",
    },
    {
      key: "apparentLengthUm",
      label: "Its length at the specimen",
      unit: "µm",
      hint: "All divisions of the scale times the factor.",
      usual: scaleAtSpecimen,
    },
    { key: "wantedDiameterUm", label: "Circle wanted at the specimen", unit: "µm", usual: "100" },
  ],
  work: (value) => {
    const circle = graticuleCircleMm(
      value("realLengthMm"),
      value("apparentLengthUm"),
      value("wantedDiameterUm"),
    );
    const area = circleArea(value("wantedDiameterUm").div(1000));
    return [
      ["Circle to order", `${digits(circle, 3)} mm`],
      ["Its area at the specimen", `${digits(area, 3)} mm²`],
    ];
  },
};

const drum: Calculator = {
  id: "drum",
  title: "Reading of a filar micrometer eyepiece",
  source: "Whole turns on the fixed scale and the drum's own divisions: common practice, no source",
  caution: "Come to every line from the same side: the screw has play.",
  train: "none",
  fields: [
    { key: "turns", label: "Whole turns on the fixed scale", rule: { sign: "not negative", whole: true } },
    { key: "drum", label: "Reading of the drum", rule: { sign: "not negative" } },
    {
      key: "drumDivisions",
      label: "Divisions around the drum",
      rule: { sign: "positive", whole: true },
      usual: "100",
    },
    { key: "divisionsPerTurn", label: "Scale divisions per turn", usual: "1" },
  ],
  work: (value) => {
    const around = value("drumDivisions").toNumber();
    const perTurn = value("divisionsPerTurn");
    return [
      ["Reading", `${divisionsOfDrum(value("turns"), value("drum"), around, perTurn).toFixed()} div`],
      ["One step of the drum", `${digits(drumStep(around, perTurn), 6)} div`],
      ["Where they go", "the reading into the sheet, the step into the method as its smallest fraction"],
    ];
  },
};

const CIRCLES = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];

const circles: Calculator = {
  id: "circles",
  title: "Circles of a reticle that grow by √2",
  source: "D = L·2^(n/2), L being a 200th of the length of the base line: common practice, no source",
  train: "none",
  fields: [
    {
      key: "length",
      label: "Length of the base line (200 L) at the specimen",
      unit: "µm",
      hint: "Its divisions times the factor, or measured with a stage micrometer.",
    },
  ],
  work: (value) =>
    CIRCLES.map((n) => [`Circle ${n}`, `${digits(rootTwoCircle(value("length").div(200), n), 4)} µm`]),
};

export const FIELD_CALCULATORS: readonly Calculator[] = [field, circle, squares, order, drum, circles];
