import { z } from "zod";
import { COVERAGE_RULES } from "../../calibration/calibration.ts";
import { EDGE_KINDS } from "../../measurement/size.ts";
import { ROUNDING_RULES } from "../../quantity/rounding.ts";
import { Id, Instant, Name, Note, OptionalLine, TypedNumber } from "./primitives.ts";

/** One dimension of a method, e.g. “polar axis”. `key` is stable and short: it names columns. */
export const MethodDimension = z.strictObject({
  key: z.string().regex(/^[a-z][a-z0-9_]{0,19}$/, "must be a short lower-case word"),
  name: Name,
});
export type MethodDimension = z.infer<typeof MethodDimension>;

/** Inputs of the budget of one size, as typed. */
export const TypedReadingConditions = z.strictObject({
  smallestFraction: TypedNumber,
  repeatability: TypedNumber,
  /** Empty: taken as known. */
  repeatabilityDegreesOfFreedom: TypedNumber,
  alignmentHalfAngle: TypedNumber,
  ends: z.enum(["points", "parallel-edges"]),
  edgeHalfWidth: TypedNumber,
  edgeDegreesOfFreedom: TypedNumber,
  edgeKind: z.enum(EDGE_KINDS),
});
export type TypedReadingConditions = z.infer<typeof TypedReadingConditions>;

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
