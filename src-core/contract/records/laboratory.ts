import { z } from "zod";
import { EXERCISES } from "../../vocabulary/practice.ts";
import { Note, OptionalLine, Reason } from "./primitives.ts";

/** What reasons are given for: striking a row, changing a closed sheet, correcting a word, using something overdue. */
export const REASON_USES = ["strike", "amend", "correct", "overdue"] as const;
export type ReasonUse = (typeof REASON_USES)[number];

/** As many as there are digits. */
export const MOST_REASONS = 9;

const OwnReasons = z
  .array(Reason)
  .max(MOST_REASONS, `are too many: at most ${MOST_REASONS}, one a digit`)
  .refine((list) => new Set(list).size === list.length, "has a line twice");

/** The laboratory's own reasons, each as it is written on records, with its code where it has one; empty: the usual ones. */
export const ReasonLists = z.strictObject({
  strike: OwnReasons,
  amend: OwnReasons,
  correct: OwnReasons,
  overdue: OwnReasons,
});
export type ReasonLists = z.infer<typeof ReasonLists>;

export const NO_OWN_REASONS: ReasonLists = { strike: [], amend: [], correct: [], overdue: [] };

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
  reasons: ReasonLists.default(NO_OWN_REASONS),
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
  reasons: NO_OWN_REASONS,
};
