import { z } from "zod";
import { Id, Instant, Name, OptionalLine, StoredDecimal } from "./primitives.ts";
import { optionalDecimal } from "./typed-number.ts";

export const Person = z.strictObject({
  id: Id,
  name: Name,
  initials: OptionalLine,
  /** Interpupillary distance set on the head, mm; null when not known. */
  interpupillaryMm: StoredDecimal.nullable(),
  registeredAt: Instant,
});
export type Person = z.infer<typeof Person>;

export const NewPerson = z.strictObject({
  name: Name,
  initials: OptionalLine,
  /** Empty when not known; no eyes are wider apart: a larger figure is not in millimetres. */
  interpupillaryMm: optionalDecimal({ sign: "positive", most: 100 }),
});
