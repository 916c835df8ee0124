import { z } from "zod";
import { CalendarDate, Id, Instant, Reason } from "./primitives.ts";
import { Replacement, TraceSubject } from "./trace.ts";

export const NewReevaluation = z.strictObject({
  subject: TraceSubject,
  from: CalendarDate.nullable(),
  to: CalendarDate.nullable(),
  /** Only these sheets; null: all. */
  sheetIds: z.array(Id).min(1, "names no sheet").max(5000).nullable(),
  replacement: Replacement,
  reason: Reason,
});
export type NewReevaluation = z.infer<typeof NewReevaluation>;

/** Old and new calibration of a re-evaluation. */
export const CalibrationSwap = z.strictObject({ from: Id, to: Id });
export type CalibrationSwap = z.infer<typeof CalibrationSwap>;

/**
 * Conversion of results already frozen with another factor: an act with its reason, in slices that can be stopped and go
 * on later. `done` results hold the new value and keep the old one; the rest are as they were.
 */
export const Reevaluation = NewReevaluation.extend({
  id: Id,
  /** `stopped` also after the program ended in the middle: it goes on when somebody resumes it. */
  state: z.enum(["running", "stopped", "finished"]),
  swaps: z.array(CalibrationSwap),
  total: z.int(),
  done: z.int(),
  /** Signed or reviewed sheets that ask for it again. */
  reopenedSheets: z.int(),
  startedAt: Instant,
  startedBy: Id,
  finishedAt: Instant.nullable(),
  /** What stopped it, when that was not a person. */
  trouble: z.string().nullable(),
});
export type Reevaluation = z.infer<typeof Reevaluation>;
