import { z } from "zod";
import { Id, Instant, Name, OptionalLine } from "./primitives.ts";

export const LARGEST_ATTACHMENT_BYTES = 20_000_000;
/** Points of a picture on a row or a field, width times height: decoded it takes four bytes for each. */
export const MOST_PICTURE_POINTS = 40_000_000;
/** Bytes of one part on the wire: base64 of it stays well below the largest request. */
export const ATTACHMENT_PART_BYTES = 524_288;

export const ATTACHMENT_TYPES = ["image/png", "image/jpeg", "application/pdf"] as const;

export const ATTACHMENT_SUBJECTS = [
  "certificate",
  "stage micrometer",
  "microscope",
  "objective",
  "eyepiece",
  "calibration",
  "specimen row",
  "count field",
] as const;
/** A field of a count is known by the identifier of its count and its number; nothing else has a number. */
export const AttachmentSubject = z
  .strictObject({ kind: z.enum(ATTACHMENT_SUBJECTS), id: Id, field: z.int().min(1).exactOptional() })
  .refine(({ kind, field }) => (kind === "count field") === (field !== undefined), {
    error: "names a field where none belongs, or no field of a count",
    path: ["field"],
  });
export type AttachmentSubject = z.infer<typeof AttachmentSubject>;

/** RFC 4648, clause 4, with padding. */
export const BASE64 = /^[A-Za-z0-9+/]*={0,2}$/;
/** Bytes as base64. */
export const Base64 = z
  .string()
  .max(Math.ceil(ATTACHMENT_PART_BYTES / 3) * 4)
  .regex(BASE64, "is not base64");

export const Sha256 = z.string().regex(/^[0-9a-f]{64}$/, "is not a SHA-256");

/** A scan or photograph kept beside the database under its SHA-256. The type is told by its first bytes, not its name. */
export const Attachment = z.strictObject({
  id: Id,
  subject: AttachmentSubject,
  fileName: Name,
  mediaType: z.enum(ATTACHMENT_TYPES),
  bytes: z.int().min(1),
  sha256: Sha256,
  caption: OptionalLine,
  addedAt: Instant,
  addedBy: Id,
  /** Set when it was found to belong elsewhere; the file stays. */
  withdrawn: z.strictObject({ at: Instant, by: Id, reason: z.string() }).nullable(),
});
export type Attachment = z.infer<typeof Attachment>;

export const NewAttachment = z.strictObject({
  subject: AttachmentSubject,
  fileName: Name,
  bytes: z
    .int()
    .min(1, "is empty")
    .max(LARGEST_ATTACHMENT_BYTES, "is too large: at most 20 MB; scan it at a lower resolution"),
  caption: OptionalLine,
});
