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

/** Its line and its hash. */
export function partsOfHead(head: TrailHead): { readonly sequence: number; readonly hash: string } {
  const [sequence = "", hash = ""] = head.split(":");
  return { sequence: Number(sequence), hash };
}

/** With the first 16 digits of the hash, as the names of backups have them: for every record of a table. */
export const shortHead = (head: TrailHead | null): string => head?.slice(0, head.indexOf(":") + 17) ?? "";

/** What stands before it wherever it is printed. */
export const TRAIL_HEAD_LABEL = "Audit trail up to";

/** A line of the trail and the first digits of its hash, at least 8, as somebody noted them. */
const NOTED = /(?<![\w:])([1-9]\d{0,11}):([0-9a-f]{8,64})(?![\w:])/g;

/** A line of the trail as it was noted elsewhere: on paper, in an export, in the name of a copy. */
export const NotedHead = z.strictObject({
  sequence: z.int(),
  /** The hash of that line, or its first digits. */
  hash: z.string(),
});
export type NotedHead = z.infer<typeof NotedHead>;

/** The heads that stand in a text such as `trail-heads.txt` or the foot of a report, each once. */
export function headsInText(text: string): NotedHead[] {
  const found = new Map<string, NotedHead>();
  for (const [whole, line = "", hash = ""] of text.matchAll(NOTED)) {
    found.set(whole, { sequence: Number(line), hash });
  }
  return [...found.values()];
}

/** The trail of now held against heads noted elsewhere. */
export const HeadsComparison = z.strictObject({
  /** How many heads were compared. */
  compared: z.int(),
  /** The highest line up to which history is the one that was noted; 0 when none agrees. */
  agreesUpTo: z.int(),
  /** Heads whose line is gone or has another hash, lowest first. */
  differing: z.array(NotedHead),
});
export type HeadsComparison = z.infer<typeof HeadsComparison>;

export const VerifyReport = z.strictObject({
  trailLines: z.int(),
  /** The line whose hash was taken as followed to before; null: the trail was followed from its first line. */
  wentOnFrom: z.int().nullable(),
  /** The last line up to which the chain of hashes agrees; null where not even the first does, or there is none. */
  followedTo: TrailHead.nullable(),
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
