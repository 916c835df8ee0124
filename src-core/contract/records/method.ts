import { z } from "zod";
import { ROUNDING_RULES } from "../../quantity/rounding.ts";
import { COVERAGE_RULES } from "../../vocabulary/calibration.ts";
import { DECISION_RULES } from "../../vocabulary/decision-rules.ts";
import { DERIVED_KINDS, OWN_FORMULA } from "../../vocabulary/derived-kinds.ts";
import { ENTRY_KINDS, MOST_REPEATS } from "../../vocabulary/entry.ts";
import { EDGE_KINDS } from "../../vocabulary/measurement.ts";
import { EXERCISES } from "../../vocabulary/practice.ts";
import { AMOUNT_BASES, SIZE_COUNTINGS } from "../../vocabulary/size-classes.ts";
import { Id, Instant, Name, Note, OptionalLine, TypedNumber } from "./primitives.ts";

/** One dimension of a method, e.g. “polar axis”. `key` is stable and short: it names columns. */
export const MethodDimension = z.strictObject({
  key: z.string().regex(/^[a-z][a-z0-9_]{0,19}$/, "must be a short lower-case word"),
  name: Name,
  /** Read in up to so many parts, whose sum is the size: a curved object, or one longer than the scale. Left out: read whole. */
  parts: z
    .int()
    .min(2, "must be at least 2, or empty")
    .max(MOST_REPEATS, `must be at most ${MOST_REPEATS}`)
    .optional(),
});
export type MethodDimension = z.infer<typeof MethodDimension>;

/** Inputs of the budget of one size, as typed. */
export const TypedReadingConditions = z.strictObject({
  smallestFraction: TypedNumber,
  repeatability: TypedNumber,
  /** Empty: taken as known. */
  repeatabilityDegreesOfFreedom: TypedNumber,
  /** Whose scatter and from what, where it was taken and not typed; named in the budget of a size read once. */
  repeatabilitySource: z
    .string()
    .trim()
    .max(400, "is too long: at most 400 characters")
    .regex(/^[^\p{Cc}]*$/u, "must be one line of text")
    .optional(),
  alignmentHalfAngle: TypedNumber,
  ends: z.enum(["points", "parallel-edges"]),
  edgeHalfWidth: TypedNumber,
  edgeDegreesOfFreedom: TypedNumber,
  edgeKind: z.enum(EDGE_KINDS),
});
export type TypedReadingConditions = z.infer<typeof TypedReadingConditions>;

const ColumnKey = z.string().regex(/^[a-z][a-z0-9_]{0,19}$/, "must be a short lower-case word");

/**
 * A quantity computed per row from sizes of the same row; `of` names dimensions in the order of the kind's inputs, of a
 * formula those it names. `formula` belongs to the kind `formula` alone.
 */
export const DerivedDefinition = z.strictObject({
  key: ColumnKey,
  name: Name,
  kind: z.enum([...DERIVED_KINDS, OWN_FORMULA]),
  formula: z.string().trim().min(1).max(200, "is too long: at most 200 characters").optional(),
  of: z.array(ColumnKey).min(1, "needs at least one dimension").max(6),
});
export type DerivedDefinition = z.infer<typeof DerivedDefinition>;

/** A dimension or derived quantity that is put into the classes of a table of `class-tables.ts`. */
export const ClassDefinition = z.strictObject({ of: ColumnKey, tableId: z.string().max(60) });
export type ClassDefinition = z.infer<typeof ClassDefinition>;

/** Limits of a dimension or derived quantity, in its unit as typed (empty: none on that side), and the rule that decides. */
export const LimitDefinition = z.strictObject({
  of: ColumnKey,
  lower: TypedNumber,
  upper: TypedNumber,
  rule: z.enum(DECISION_RULES),
});
export type LimitDefinition = z.infer<typeof LimitDefinition>;

/**
 * The laboratory's own limits by which the specimens of a sheet are counted: each `from` in the unit of the quantity, rising;
 * `most` is the highest number allowed per container, mL or sheet, empty: none. The rule decides on every one of them.
 */
export const SizeClasses = z.strictObject({
  of: ColumnKey,
  counted: z.enum(SIZE_COUNTINGS),
  per: z.enum(AMOUNT_BASES),
  rule: z.enum(DECISION_RULES),
  limits: z
    .array(z.strictObject({ from: TypedNumber, most: TypedNumber }))
    .min(1, "needs at least one limit")
    .max(12),
  /** Where the limits come from, in words. */
  source: z
    .string()
    .trim()
    .max(400, "is too long: at most 400 characters")
    .regex(/^[^\p{Cc}]*$/u, "must be one line of text"),
});
export type SizeClasses = z.infer<typeof SizeClasses>;

/** Which percentiles are reported, in per cent as typed, and by which definition (Hyndman and Fan’s type). */
export const PercentileChoice = z.strictObject({
  type: z.union([z.literal(6), z.literal(7)]),
  lower: TypedNumber,
  upper: TypedNumber,
});
export type PercentileChoice = z.infer<typeof PercentileChoice>;

export const REPORT_KINDS = [
  "none",
  "mean and range",
  "spore notation",
  "pollen P and E",
  "particle sizes",
  "grain size number",
] as const;

/** The report string of a label: decimals of sizes and of pure numbers. */
export const ReportChoice = z.strictObject({
  kind: z.enum(REPORT_KINDS),
  places: z.int().min(0).max(6),
  ratioPlaces: z.int().min(0).max(6),
});
export type ReportChoice = z.infer<typeof ReportChoice>;

/** What a method says beyond its dimensions and reading conditions; the defaults are those of a plain length. */
const EXTRAS = {
  /** Two edges of the reticle's scale are read, or the divisions directly. */
  entry: z.enum(ENTRY_KINDS).default("two-edges"),
  /** How often each dimension is read. */
  repeats: z
    .int()
    .min(1, "must be at least 1")
    .max(MOST_REPEATS, `must be at most ${MOST_REPEATS}`)
    .default(1),
  /** Relative U wanted for a size, %; empty: none. */
  wantedPercent: TypedNumber.default(""),
  derived: z.array(DerivedDefinition).max(12).default([]),
  classes: z.array(ClassDefinition).max(12).default([]),
  percentiles: PercentileChoice.default({ type: 7, lower: "10", upper: "90" }),
  report: ReportChoice.default({ kind: "none", places: 1, ratioPlaces: 2 }),
  /** Left out by methods without limits: what they are known by must not change. */
  limits: z.array(LimitDefinition).max(12).optional(),
  /** Left out by methods that count nothing by size, as limits are. */
  sizeClasses: SizeClasses.optional(),
  /** Exercises that whoever works by it is to have shown; left out by methods that ask for none, as limits are. */
  practice: z.array(z.enum(EXERCISES)).min(1).max(EXERCISES.length).optional(),
};

export const MethodDefinition = z.strictObject({
  name: Name,
  dimensions: z.array(MethodDimension).min(1, "needs at least one dimension").max(6),
  /** Which edge of the object is read, in words printed on the sheet. */
  edgeConvention: OptionalLine,
  reading: TypedReadingConditions,
  coverage: z.enum(COVERAGE_RULES),
  rounding: z.enum(ROUNDING_RULES),
  /** Least divisions an object should span; a flag, never a block. */
  minimumDivisions: TypedNumber,
  note: Note,
  ...EXTRAS,
});
export type MethodDefinition = z.infer<typeof MethodDefinition>;

/** A method never changes: a change makes the next version, and a sheet keeps the version it was measured under. */
export const Method = z.strictObject({
  id: Id,
  /** Shared by the versions of one method. */
  familyId: Id,
  version: z.int().min(1),
  definition: MethodDefinition,
  definedAt: Instant,
  definedBy: Id,
});
export type Method = z.infer<typeof Method>;
