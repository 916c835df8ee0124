import {
  type ClassDefinition,
  type LimitDefinition,
  type Method,
  MethodDefinition,
  type REPORT_KINDS,
  type SizeClasses,
} from "#core/contract/records/method.ts";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { readFormula } from "#core/measurement/formulas/formula.ts";
import { numbersOfMethod, requireMethodDefinition } from "#core/measurement/methods/method-check.ts";
import { PLAIN_METHOD } from "#core/measurement/methods/plain-method.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { OWN_FORMULA } from "#core/vocabulary/derived-kinds.ts";
import { exercisesOf } from "../../../parts/bench-words/exercise-choices.ts";
import { problemsBySchema, problemsOfNumbers } from "../../../parts/form/form-checks.ts";
import { type FieldErrors, withoutBlankEnd } from "../../../parts/form/form-values.ts";

/** A derived quantity as typed; `of` lists column names, with commas between them. */
export interface DerivedTyped {
  readonly key: string;
  readonly name: string;
  readonly kind: string;
  readonly of: string;
}

/** The laboratory's own size classes as typed. */
export interface SizeClassesTyped extends Omit<SizeClasses, "limits"> {
  readonly limits: readonly SizeClasses["limits"][number][];
}

/** A method as its form holds it: numbers are text, and a column name may be left to be made from the name. */
export interface MethodTyped
  extends Omit<
    MethodDefinition,
    | "repeats"
    | "dimensions"
    | "derived"
    | "classes"
    | "percentiles"
    | "report"
    | "limits"
    | "sizeClasses"
    | "practice"
  > {
  readonly repeats: string;
  /** `parts` is empty for a dimension that is read whole; drafts of an earlier version have none. */
  readonly dimensions: readonly { readonly key: string; readonly name: string; readonly parts?: string }[];
  readonly derived: readonly DerivedTyped[];
  readonly classes: readonly ClassDefinition[];
  readonly limits: readonly LimitDefinition[];
  /** Without limits: nothing is counted by size. Drafts of an earlier version have none. */
  readonly sizeClasses?: SizeClassesTyped;
  /** Names of exercises, by spaces. */
  readonly practice: string;
  readonly percentiles: { readonly type: string; readonly lower: string; readonly upper: string };
  readonly report: {
    readonly kind: (typeof REPORT_KINDS)[number];
    readonly places: string;
    readonly ratioPlaces: string;
  };
}

export const EMPTY_DIMENSION = { key: "", name: "", parts: "" };
export const EMPTY_LIMIT: LimitDefinition = { of: "", lower: "", upper: "", rule: "guarded-acceptance" };
export const EMPTY_DERIVED: DerivedTyped = { key: "", name: "", kind: "ratio", of: "" };

export const NO_SIZE_CLASSES: SizeClassesTyped = {
  of: "",
  counted: "at-least",
  per: "sheet",
  rule: "simple-acceptance",
  limits: [],
  source: "",
};
export const EMPTY_SIZE_LIMIT = { from: "", most: "" };

/** A definition as its form holds it. */
export function typedFrom(definition: MethodDefinition): MethodTyped {
  const {
    repeats,
    dimensions,
    derived,
    percentiles,
    report,
    limits = [],
    sizeClasses = NO_SIZE_CLASSES,
    practice = [],
    ...rest
  } = structuredClone(definition);
  return {
    ...rest,
    limits,
    sizeClasses,
    practice: practice.join(" "),
    repeats: String(repeats),
    dimensions: dimensions.map((one) => ({
      ...one,
      parts: one.parts === undefined ? "" : String(one.parts),
    })),
    derived: derived.map(({ formula, ...one }) => ({ ...one, of: formula ?? one.of.join(", ") })),
    percentiles: { ...percentiles, type: String(percentiles.type) },
    report: { ...report, places: String(report.places), ratioPlaces: String(report.ratioPlaces) },
  };
}

/** A copy to change into the next version. */
export function typedFromMethod(method: Method): MethodTyped {
  return typedFrom(method.definition);
}

/** A method to start from: one dimension to name, reading conditions at their stated defaults. */
export const EMPTY_METHOD: MethodTyped = typedFrom({
  ...PLAIN_METHOD,
  name: "",
  dimensions: [{ key: "", name: "" }],
  edgeConvention: "",
  reading: defaultTypedReadingConditions(),
  coverage: "t95",
  rounding: "half-even",
  minimumDivisions: "20",
  note: "",
});

/** Column name of a dimension from its name: `Polar axis` → `polar_axis`. */
export function keyFromName(name: string): string {
  const plain = name
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "_")
    .replace(/^[^a-z]+|_+$/g, "");
  return plain.slice(0, 20).replace(/_+$/, "");
}

function keyed<T extends { readonly key: string; readonly name: string }>(one: T): T {
  return { ...one, key: one.key.trim() === "" ? keyFromName(one.name) : one.key.trim() };
}

const WHOLE = /^\d+$/;
/** A whole number as typed; anything else stays as it is, for the schema to name. */
const whole = (typed: string): number => (WHOLE.test(typed.trim()) ? Number(typed) : Number.NaN);

/** A derived quantity as it is sent: columns by commas or blanks, or a formula with the columns it names. */
function derivedInput(one: DerivedTyped, columns: readonly string[]): MethodDefinition["derived"][number] {
  const { kind, of: typed } = one;
  if (kind !== OWN_FORMULA) {
    const of = typed.split(/[,;\s]+/).filter((key) => key !== "");
    return { ...keyed(one), of };
  }
  // A formula that cannot be read yet is sent with any column: the check names what is wrong with it.
  let of: readonly string[] = columns.slice(0, 1);
  try {
    of = readFormula(typed, columns).sizes;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
  }
  return { ...keyed(one), formula: typed.trim(), of: [...of] };
}

/** What is sent: column names made where none is typed, blank rows at the end left out. */
export function methodInput(typed: MethodTyped): MethodDefinition {
  const { percentiles, report, limits, sizeClasses = NO_SIZE_CLASSES, practice, ...rest } = typed;
  const exercises = exercisesOf(practice);
  const dimensions = withoutBlankEnd(
    typed.dimensions,
    ({ name, key, parts = "" }) => `${name}${key}${parts}`.trim() === "",
  ).map(({ parts = "", ...one }) => ({
    ...keyed(one),
    ...(parts.trim() === "" ? {} : { parts: whole(parts) }),
  }));
  const columns = dimensions.map(({ key }) => key);
  return {
    ...rest,
    ...(limits.length === 0 ? {} : { limits: [...limits] }),
    ...(sizeClasses.limits.length === 0
      ? {}
      : { sizeClasses: { ...sizeClasses, limits: [...sizeClasses.limits] } }),
    ...(exercises.length === 0 ? {} : { practice: exercises }),
    dimensions,
    repeats: whole(typed.repeats),
    derived: typed.derived
      .slice(0, 1 + typed.derived.findLastIndex((one) => `${one.name}${one.key}${one.of}`.trim() !== ""))
      .map((one) => derivedInput(one, columns)),
    classes: [...typed.classes],
    percentiles: { ...percentiles, type: percentiles.type === "6" ? 6 : 7 },
    report: { ...report, places: whole(report.places), ratioPlaces: whole(report.ratioPlaces) },
  };
}

function takenTwice(typed: MethodTyped): FieldErrors {
  const { dimensions, derived } = methodInput(typed);
  const keys = [
    ...dimensions.map((one, at) => [`dimensions.${at}.key`, one.key] as const),
    ...derived.map((one, at) => [`derived.${at}.key`, one.key] as const),
  ];
  const errors: Record<string, string> = {};
  keys.forEach(([path, key], index) => {
    if (key !== "" && keys.findIndex(([, other]) => other === key) < index) {
      errors[path] = `“${key}” names a column already: type another short word`;
    }
  });
  return errors;
}

/** What only the whole definition can say, once every field can be read. */
function problemOfWhole(definition: MethodDefinition): FieldErrors {
  const parsed = MethodDefinition.safeParse(definition);
  if (!parsed.success) return {};
  try {
    requireMethodDefinition(parsed.data);
    return {};
  } catch (error) {
    if (error instanceof InputError) return { [fieldOfMethod(error.field)]: error.reason };
    throw error;
  }
}

/** The inputs of a derived quantity, or its formula, are one field of the form. */
export function fieldOfMethod(path: string): string {
  return path.replace(/^(derived\.\d+\.of)\.\d+$/, "$1").replace(/^(derived\.\d+)\.formula$/, "$1.of");
}

function wholeProblems({ repeats, report }: MethodTyped): FieldErrors {
  const fields = { repeats, "report.places": report.places, "report.ratioPlaces": report.ratioPlaces };
  return Object.fromEntries(
    Object.entries(fields).flatMap(([path, typed]) =>
      Number.isNaN(whole(typed)) ? [[path, "must be a whole number"]] : [],
    ),
  );
}

function schemaProblems(typed: MethodTyped): FieldErrors {
  const problems = problemsBySchema(MethodDefinition, methodInput(typed));
  return Object.fromEntries(Object.entries(problems).map(([path, reason]) => [fieldOfMethod(path), reason]));
}

export function methodProblems(typed: MethodTyped): FieldErrors {
  return {
    ...problemOfWhole(methodInput(typed)),
    ...schemaProblems(typed),
    ...wholeProblems(typed),
    ...problemsOfNumbers(numbersOfMethod(typed)),
    ...takenTwice(typed),
  };
}
