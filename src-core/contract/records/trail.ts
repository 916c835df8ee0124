import { z } from "zod";
import { Id, Instant } from "./primitives.ts";

/** One line of the audit trail. `hash` covers every other column and the hash of the line before. */
export const TrailLine = z.strictObject({
  sequence: z.int(),
  at: Instant,
  /** Who; null before anyone has named themselves. */
  personId: Id.nullable(),
  /** What was done: `rows.enter`, `calibrations.putInForce` … */
  act: z.string(),
  /** Which record: `specimen_row`, its id. */
  subject: z.string(),
  subjectId: Id,
  reason: z.string().nullable(),
  /** What changed, as JSON text with stable key order. */
  detail: z.string(),
  hash: z.string().regex(/^[0-9a-f]{64}$/),
});
export type TrailLine = z.infer<typeof TrailLine>;

/**
 * The newest line of the trail, whose hash stands for every line before it, in the one notation of exports, prints, the
 * anchor file and `npm run verify -- FILE --head`: `412:9f86…`, the hash in full.
 */
export const TrailHead = z.string().regex(/^[1-9]\d{0,11}:[0-9a-f]{64}$/, "is not LINE:HASH");
export type TrailHead = z.infer<typeof TrailHead>;

/** With the first 16 digits of the hash, as the names of backups have them: for every record of a table. */
export const shortHead = (head: TrailHead | null): string => head?.slice(0, head.indexOf(":") + 17) ?? "";

/** What stands before it wherever it is printed. */
export const TRAIL_HEAD_LABEL = "Audit trail up to";

export const VerifyReport = z.strictObject({
  trailLines: z.int(),
  measurements: z.int(),
  calibrations: z.int(),
  /** Counts whose presses were followed link by link and replayed. */
  counts: z.int(),
  attachments: z.int(),
  checks: z.int(),
  /** Signatures, reviews and closings that stand. */
  signOffs: z.int(),
  /** Results that were replaced and are kept. */
  supersededResults: z.int(),
  /** Each difference named: where, what is stored, what was expected. Empty: all agree. */
  differences: z.array(z.strictObject({ where: z.string(), stored: z.string(), expected: z.string() })),
  /** True when more differences were found than are listed. */
  more: z.boolean(),
});
export type VerifyReport = z.infer<typeof VerifyReport>;

/** How far a verification is: the part under way, and how many parts are done. */
export const BackupFile = z.strictObject({
  fileName: z.string(),
  bytes: z.int(),
  madeAt: Instant,
  why: z.enum(["daily", "on request", "before migration", "hand-over"]),
  /** Newest line of the trail in the copy, and the first digits of its hash; null for copies of older programs. */
  head: z.strictObject({ sequence: z.int(), hash: z.string() }).nullable(),
});
export type BackupFile = z.infer<typeof BackupFile>;
