import { BIOVOLUME_SHAPES, type BiovolumeShape } from "../methods/biovolume-shapes.ts";

/** The shape whose volume a kind of derived quantity is; null for the plain kinds. */
export function shapeOfKind(kind: string): BiovolumeShape | null {
  return BIOVOLUME_SHAPES.find((shape) => shape.id === kind) ?? null;
}

/** What a kind of derived quantity is computed from, in order; null: any two or more dimensions. */
export function derivedInputs(kind: string): readonly string[] | null {
  if (kind === "ratio") return ["numerator", "denominator"];
  if (kind === "circle-area") return ["diameter"];
  return shapeOfKind(kind)?.inputs.map((input) => input.name) ?? null;
}

/** The unit of a kind, 1 for a pure number. */
export function derivedUnit(kind: string): "1" | "µm" | "µm²" | "µm³" {
  if (kind === "ratio") return "1";
  if (kind === "circle-area") return "µm²";
  return kind === "largest" || kind === "mean" ? "µm" : "µm³";
}

/** A kind in words, with its formula where it has one. */
export function derivedWords(kind: string): string {
  const shape = shapeOfKind(kind);
  if (shape) return `volume of a ${shape.name}, ${shape.formula}`;
  const plain: Readonly<Record<string, string>> = {
    ratio: "ratio, first over second",
    "circle-area": "area of a circle, π/4·d²",
    largest: "the largest of them",
    mean: "their mean",
  };
  return plain[kind] ?? kind;
}
