import { z } from "zod";
import type { DecimalText } from "../../quantity/decimal-text.ts";
import { LONGEST_TYPED_NUMBER } from "../../quantity/decimal-text.ts";

/** Text ids made by the program or, for rows, by the window that entered them (UUIDs). */
export const Id = z.string().regex(/^[A-Za-z0-9_-]{1,40}$/, "is not an identifier of this bench");

/** An instant in UTC, ISO 8601 with milliseconds. */
export const Instant = z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/, "is not an instant");

/** A calendar date, ISO 8601. */
export const CalendarDate = z.iso.date("is not a date: write it as 2026-01-31");

/** A stored decimal: canonical text. */
export const StoredDecimal = z.custom<DecimalText>(
  (value) => typeof value === "string" && /^-?\d+(\.\d+)?$/.test(value),
  "is not a stored decimal",
);

/**
 * A number as a person typed it; read by `readDecimal` in the service, which names the field when it cannot be read.
 * The limit here only keeps absurd text off the wire.
 */
export const TypedNumber = z.string().max(LONGEST_TYPED_NUMBER * 10, "is too long for a number");

/** A name or title: one line, not blank. */
export const Name = z
  .string()
  .trim()
  .min(1, "Enter a name.")
  .max(120, "is too long: at most 120 characters")
  .regex(/^[^\p{Cc}]*$/u, "must be one line of text");

/** A short optional line such as a serial number; empty when unknown. */
export const OptionalLine = z
  .string()
  .trim()
  .max(120, "is too long: at most 120 characters")
  .regex(/^[^\p{Cc}]*$/u, "must be one line of text");

/** Free text; may have line breaks. */
export const Note = z.string().max(4000, "is too long: at most 4000 characters");

/** Why something was done; required where a record is amended. */
export const Reason = z
  .string()
  .trim()
  .min(3, "Enter a reason in words.")
  .max(500, "is too long: at most 500 characters");

/** Made once per act by the window; a repeated request with the same id is answered without acting twice. */
export const RequestId = z.string().regex(/^[A-Za-z0-9_-]{8,60}$/, "is not a request identifier");
