import { z } from "zod";
import { EXERCISES } from "../../vocabulary/practice.ts";
import { Note, OptionalLine } from "./primitives.ts";

/** How this laboratory wants to work; all off on a new bench but the review. */
export const LaboratorySettings = z.strictObject({
  /** Printed at the head of letters. */
  name: OptionalLine,
  address: Note,
  /** A calibration in force is marked until another person has confirmed it. */
  confirmCalibrations: z.boolean(),
  /** A sheet is signed only after another person has reviewed it. */
  reviewBeforeSigning: z.boolean(),
  /** Whoever reviews a sheet proves it with the PIN; a laboratory that never said so reviews without. */
  reviewWithPin: z.boolean().default(false),
  /** A met attempt at practice counts as proof once an examiner has signed it. */
  practiceBySignature: z.boolean().default(false),
  /** What somebody is to have shown before working on sheets, and on counts; work without it is marked, never blocked. */
  practiceForSheets: z.array(z.enum(EXERCISES)).default([]),
  practiceForCounts: z.array(z.enum(EXERCISES)).default([]),
  /** Days from a calibration or check to the next check of a train; null: checks are not scheduled. */
  checkIntervalDays: z.int().min(1).max(3650).nullable(),
  checkIntervalReason: OptionalLine,
});
export type LaboratorySettings = z.infer<typeof LaboratorySettings>;

export const NEW_BENCH_LABORATORY: LaboratorySettings = {
  name: "",
  address: "",
  confirmCalibrations: false,
  reviewBeforeSigning: true,
  reviewWithPin: false,
  practiceBySignature: false,
  practiceForSheets: [],
  practiceForCounts: [],
  checkIntervalDays: null,
  checkIntervalReason: "",
};
