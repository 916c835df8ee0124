import { z } from "zod";
import { Id, Instant, Name, OptionalLine, StoredDecimal, TypedNumber } from "./primitives.ts";

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
  /** Empty when not known. */
  interpupillaryMm: TypedNumber,
});
