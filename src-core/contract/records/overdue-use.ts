import { z } from "zod";
import { CalendarDate, Id, Instant, Reason } from "./primitives.ts";

/** What is done with a factor or a certificate: readings, counts, or a calibration that rests on the certificate. */
export const OVERDUE_WORK = ["sheet", "count", "calibration"] as const;

/** The dates that are past, of the calibration a train is used with and of the certificate behind it; one at least. */
export const OverdueDates = z.strictObject({
  calibrationId: Id,
  calibrationDueOn: CalendarDate.nullable(),
  certificateDueOn: CalendarDate.nullable(),
});
export type OverdueDates = z.infer<typeof OverdueDates>;

/** Somebody knew that something was past its date, used it all the same, and said why. */
export const OverdueUse = OverdueDates.extend({
  id: Id,
  work: z.enum(OVERDUE_WORK),
  /** Of the sheet, the count or the calibration that was worked on. */
  workId: Id,
  reason: Reason,
  at: Instant,
  by: Id,
});
export type OverdueUse = z.infer<typeof OverdueUse>;

/** The work that a use belongs to. */
export const OverdueWork = OverdueUse.pick({ work: true, workId: true });
export type OverdueWork = z.infer<typeof OverdueWork>;

/** What has been said of a piece of work, oldest first, and what nobody has said a word about yet. */
export const OverdueState = z.strictObject({ uses: z.array(OverdueUse), asked: OverdueDates.nullable() });
export type OverdueState = z.infer<typeof OverdueState>;
