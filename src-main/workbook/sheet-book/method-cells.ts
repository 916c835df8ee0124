import type { Method } from "#core/contract/records/method.ts";
import { readReadingConditions } from "#core/measurement/typed-reading.ts";
import type { Decimal } from "#core/quantity/decimal.ts";
import { cosineTerm, fromResolution, rectangular } from "#core/uncertainty/type-b.ts";
import { type Cell, formula, number, text } from "../spreadsheet/cell.ts";
import { CONDITION_LABELS as L } from "../words/field-labels.ts";

/** Names of the cells on About that every row's formulas refer to. */
export const METHOD_NAMES = {
  step: "reading_step",
  readingU: "reading_u",
  repeatability: "repeatability_s",
  repeatabilityInverseNu: "repeatability_inverse_nu",
  angle: "alignment_angle",
  correction: "alignment_correction",
  correctionU: "alignment_u",
  edge: "edge_half_width",
  edgeU: "edge_u",
  sharedEdgeU: "edge_shared_u",
  edgeInverseNu: "edge_inverse_nu",
} as const;

/** The same, as they are called in one workbook. */
export type MethodNames = Readonly<Record<keyof typeof METHOD_NAMES, string>>;

/** The conditions of a method as numbers for formulas and statistics. */
export interface MethodNumbers {
  readonly step: number;
  readonly readingU: number;
  readonly repeatability: number;
  readonly repeatabilityInverseNu: number;
  readonly angle: number;
  /** κ: mean relative correction for the angle between object and scale; its sign depends on the ends. */
  readonly correction: number;
  readonly correctionU: number;
  readonly edge: number;
  /** u of both edges together, µm, and the part of it that all objects share. */
  readonly edgeU: number;
  readonly sharedEdgeU: number;
  readonly edgeInverseNu: number;
}

/** How u of one edge becomes u of both: c = 2 the same way, √2 independently, 0 left out. */
const EDGE_SUM = { "same-sense": 2, independent: Math.SQRT2, none: 0 } as const;

function inverseOf(degreesOfFreedom: Decimal | null): number {
  return degreesOfFreedom === null ? 0 : 1 / degreesOfFreedom.toNumber();
}

/** @throws InputError when a condition of the method cannot be read */
export function methodNumbers(method: Method): MethodNumbers {
  const conditions = readReadingConditions(method.definition.reading);
  const cosine = cosineTerm(conditions.alignmentHalfAngle);
  const edgeU = EDGE_SUM[conditions.edgeKind] * rectangular(conditions.edgeHalfWidth).toNumber();
  // Two independent edges are two components, each with ν: together they count as one with 2ν.
  const edgeComponents = conditions.edgeKind === "independent" ? 2 : 1;
  return {
    step: conditions.smallestFraction.toNumber(),
    readingU: fromResolution(conditions.smallestFraction).toNumber(),
    repeatability: conditions.repeatability.toNumber(),
    repeatabilityInverseNu: inverseOf(conditions.repeatabilityDegreesOfFreedom),
    angle: conditions.alignmentHalfAngle.toNumber(),
    correction: (conditions.ends === "points" ? 1 : -1) * cosine.mean.toNumber(),
    correctionU: cosine.standardUncertainty.toNumber(),
    edge: conditions.edgeHalfWidth.toNumber(),
    edgeU,
    sharedEdgeU: conditions.edgeKind === "same-sense" ? edgeU : 0,
    edgeInverseNu: inverseOf(conditions.edgeDegreesOfFreedom) / edgeComponents,
  };
}

export interface MethodLine {
  readonly what: string;
  readonly cell: Cell;
  readonly unit: string;
  readonly name: string | null;
  readonly how: string;
}

const NU_OF_EMPTY = "taken as known (ν infinite), so 1/ν = 0";

/** The conditions of the method as lines of About: what was given, and live formulas for what follows from it. */
export function methodLines(method: Method, N: MethodNames): MethodLine[] {
  const n = methodNumbers(method);
  const { reading } = method.definition;
  const sign = reading.ends === "points" ? "" : "-";
  const edges = {
    "same-sense": [`2*${N.edge}/SQRT(3)`, "both edges wrong the same way: 2·a/√3"],
    independent: [`SQRT(2)*${N.edge}/SQRT(3)`, "edges independent: √2·a/√3"],
    none: ["0", "left out by the method"],
  } as const;
  const [edgeFormula, edgeWords] = edges[reading.edgeKind];
  return [
    {
      what: L.step,
      cell: number(n.step, "given"),
      unit: "div",
      name: N.step,
      how: "as in the method",
    },
    {
      what: L.readingU,
      cell: formula(`${N.step}/SQRT(12)`, n.readingU, "plain"),
      unit: "div",
      name: N.readingU,
      how: "step/√12, at either end",
    },
    {
      what: L.repeatability,
      cell: number(n.repeatability, "given"),
      unit: "div",
      name: N.repeatability,
      how: reading.repeatabilitySource
        ? `as in the method: ${reading.repeatabilitySource}`
        : "as in the method",
    },
    {
      what: L.repeatabilityInverseNu,
      cell: number(n.repeatabilityInverseNu, "given"),
      unit: "1",
      name: N.repeatabilityInverseNu,
      how:
        reading.repeatabilityDegreesOfFreedom.trim() === ""
          ? NU_OF_EMPTY
          : `ν = ${reading.repeatabilityDegreesOfFreedom}`,
    },
    {
      what: L.angle,
      cell: number(n.angle, "given"),
      unit: "°",
      name: N.angle,
      how: `as in the method; ends are ${reading.ends === "points" ? "points" : "parallel edges"}`,
    },
    {
      what: L.correction,
      // Spreadsheets square before they negate only with parentheses: -x^2 is (−x)² there.
      cell: formula(`${sign}(RADIANS(${N.angle})^2)/6`, n.correction, "small"),
      unit: "1",
      name: N.correction,
      how: reading.ends === "points" ? "+a²/6, a in radians" : "−a²/6, a in radians",
    },
    {
      what: L.correctionU,
      cell: formula(`RADIANS(${N.angle})^2/SQRT(45)`, n.correctionU, "small"),
      unit: "1",
      name: N.correctionU,
      how: "a²/√45",
    },
    {
      what: L.edge,
      cell: number(n.edge, "given"),
      unit: "µm",
      name: N.edge,
      how: "as in the method, per edge",
    },
    {
      what: L.edgeU,
      cell: formula(edgeFormula, n.edgeU, "plain"),
      unit: "µm",
      name: N.edgeU,
      how: edgeWords,
    },
    {
      what: L.sharedEdgeU,
      cell: formula(reading.edgeKind === "same-sense" ? N.edgeU : "0", n.sharedEdgeU, "plain"),
      unit: "µm",
      name: N.sharedEdgeU,
      how: "edges wrong the same way are so for every object: more objects do not help",
    },
    {
      what: L.edgeInverseNu,
      cell: number(n.edgeInverseNu, "given"),
      unit: "1",
      name: N.edgeInverseNu,
      how:
        reading.edgeDegreesOfFreedom.trim() === ""
          ? NU_OF_EMPTY
          : `ν = ${reading.edgeDegreesOfFreedom} per edge${reading.edgeKind === "independent" ? ", two edges: 1/(2ν)" : ""}`,
    },
  ];
}

/** A line of About as cells. */
export function methodRow(line: MethodLine): Cell[] {
  return [text(line.what, "field"), line.cell, text(line.unit), text(line.how, "wrapped")];
}
