import type { DerivedDefinition, MethodDefinition } from "../contract/records/method.ts";
import { BIOVOLUME_SHAPES, type BiovolumeShape } from "../methods/biovolume-shapes.ts";
import { type Decimal, ONE, PI } from "../quantity/decimal.ts";
import type { PlainDerivedKind } from "../vocabulary/derived-kinds.ts";
import { storedFormula } from "./formulas/formula.ts";

type DerivedUnit = "1" | "µm" | "µm²" | "µm³";

/** How a plain quantity follows from sizes d₁, d₂ …: the program's value and the workbook's formula both come from it. */
type PlainForm =
  | { readonly by: "product"; readonly coefficient: Decimal; readonly powers: readonly number[] }
  | { readonly by: "sum"; weights(inputs: number): readonly Decimal[] }
  | { readonly by: "largest" };

interface PlainKind {
  readonly words: string;
  /** What it is computed from, in order; null: any two or more dimensions. */
  readonly inputs: readonly string[] | null;
  readonly unit: DerivedUnit;
  readonly form: PlainForm;
}

const PLAIN_KINDS: Readonly<Record<PlainDerivedKind, PlainKind>> = {
  ratio: {
    words: "ratio, first over second",
    inputs: ["numerator", "denominator"],
    unit: "1",
    form: { by: "product", coefficient: ONE, powers: [1, -1] },
  },
  "circle-area": {
    words: "area of a circle, π/4·d²",
    inputs: ["diameter"],
    unit: "µm²",
    form: { by: "product", coefficient: PI.div(4), powers: [2] },
  },
  largest: { words: "the largest of them", inputs: null, unit: "µm", form: { by: "largest" } },
  mean: {
    words: "their mean",
    inputs: null,
    unit: "µm",
    form: { by: "sum", weights: (inputs) => Array(inputs).fill(ONE.div(inputs)) },
  },
};

/** A kind that needs no shape; null for a shape's volume. */
function plainKind(kind: string): PlainKind | null {
  return Object.hasOwn(PLAIN_KINDS, kind) ? PLAIN_KINDS[kind as PlainDerivedKind] : null;
}

/** The form of a kind that needs no shape; null for a shape's volume. */
export function plainForm(kind: string): PlainForm | null {
  return plainKind(kind)?.form ?? null;
}

/** The shape whose volume a kind of derived quantity is; null for the plain kinds. */
export function shapeOfKind(kind: string): BiovolumeShape | null {
  return BIOVOLUME_SHAPES.find((shape) => shape.id === kind) ?? null;
}

/** What a kind of derived quantity is computed from, in order; null: any two or more dimensions. */
export function derivedInputs(kind: string): readonly string[] | null {
  return plainKind(kind)?.inputs ?? shapeOfKind(kind)?.inputs.map((input) => input.name) ?? null;
}

/** The unit of a kind, 1 for a pure number. */
export function derivedUnit(kind: string): DerivedUnit {
  return plainKind(kind)?.unit ?? "µm³";
}

/** A kind in words, with its formula where it has one. */
export function derivedWords(kind: string): string {
  const shape = shapeOfKind(kind);
  return shape ? `volume of a ${shape.name}, ${shape.formula}` : (plainKind(kind)?.words ?? kind);
}

type Derived = Pick<DerivedDefinition, "kind" | "formula" | "of">;

/** The unit of a derived quantity of a method, 1 for a pure number. */
export function unitOfDerived({ kind, formula, of }: Derived): string {
  return formula === undefined ? derivedUnit(kind) : storedFormula(formula, of).unit;
}

/** What a derived quantity of a method is, in words. */
export function wordsOfDerived({ kind, formula, of }: Derived): string {
  return formula ?? `${derivedWords(kind)}, of ${of.join(", ")}`;
}

/** `Area = pi/4*length*width (µm²): a formula of this laboratory; …`, one line for each formula of its own. */
export function ownFormulaLines({ derived }: Pick<MethodDefinition, "derived">): string[] {
  return derived.flatMap((one) => {
    if (one.formula === undefined) return [];
    const unit = unitOfDerived(one);
    return [
      `${one.name} = ${one.formula}${unit === "1" ? "" : `, in ${unit}`}: a formula of this laboratory. Its U follows from the slopes, with what the sizes share counted once (JCGM 100:2008 5.2.2).`,
    ];
  });
}
