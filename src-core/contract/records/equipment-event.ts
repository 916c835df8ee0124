import { z } from "zod";
import { CalendarDate, Id, Instant } from "./primitives.ts";

export const EVENT_KINDS = [
  "serviced",
  "knocked",
  "reticle removed",
  "head changed",
  "eyepiece moved",
  "new person",
  "lent",
  "brought back",
  "other",
] as const;
export type EventKind = (typeof EVENT_KINDS)[number];

export const EventSubject = z.strictObject({ kind: z.enum(["microscope", "objective", "eyepiece"]), id: Id });
export type EventSubject = z.infer<typeof EventSubject>;

const words = z
  .string()
  .trim()
  .min(3, "needs a few words on what happened")
  .max(500, "is too long: at most 500 characters");

export const NewEquipmentEvent = z.strictObject({
  kind: z.enum(EVENT_KINDS),
  subject: EventSubject,
  happenedOn: CalendarDate,
  /** Of one that is lent: to whom, where. */
  words,
  /** Of an eyepiece brought back: the person states that nothing was changed, so its factors hold without a check. */
  unchanged: z.literal(true).optional(),
});
export type NewEquipmentEvent = z.infer<typeof NewEquipmentEvent>;

/**
 * Something that may have changed a factor. Its trains are 'check before use' until a check or calibration after it; of an
 * eyepiece that is lent they are out of service until it is brought back.
 */
export const EquipmentEvent = NewEquipmentEvent.extend({
  id: Id,
  recordedAt: Instant,
  recordedBy: Id,
  /** The trains it touches. */
  trainIds: z.array(Id),
  /** Of these, the ones not yet checked or calibrated after it. */
  openTrainIds: z.array(Id),
});
export type EquipmentEvent = z.infer<typeof EquipmentEvent>;
