import { z } from "zod";
import { CalendarDate, Id } from "./primitives.ts";

/** Something that falls due, oldest first. */
export const DueItem = z.strictObject({
  kind: z.enum(["calibration", "certificate", "check", "event", "replaced certificate", "practice"]),
  /** The calibration, certificate, event or attempt; for a check the calibration it would check. */
  id: Id,
  /** null for a certificate and for practice. */
  trainId: Id.nullable(),
  /** `40×/0.65 on Stand A`, `certificate C-1 of SM 1`, `replaced certificate behind 40×/0.65 on Stand A`. */
  what: z.string(),
  dueOn: CalendarDate,
  /** Negative: overdue since that many days. */
  daysLeft: z.int(),
  /** From the last time to `dueOn`, days; null where there is no interval. */
  intervalDays: z.int().nullable(),
  /** Why this date, in the words of whoever set it. */
  reason: z.string(),
});
export type DueItem = z.infer<typeof DueItem>;

export const DueWork = z.strictObject({
  asOf: CalendarDate,
  items: z.array(DueItem),
  /** Of everything, whatever `withinDays` was. */
  counts: z.strictObject({ overdue: z.int(), within30: z.int(), within90: z.int() }),
});
export type DueWork = z.infer<typeof DueWork>;
