import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { ExportedFile } from "../records/exchange.ts";
import { TrailSearch } from "../records/list-search.ts";
import { RequestId } from "../records/primitives.ts";
import { BackupFile, HeadsComparison, TrailHead, TrailLine, VerifyReport } from "../records/trail.ts";
import { SignaturesComparison, TrailSigning } from "../records/trail-signature.ts";

export const recordCalls = {
  /** Newest first: lines with a sequence below `before` (null: from the end). */
  "trail.page": call({
    kind: "read",
    reads: ["trail"],
    input: z.strictObject({
      before: z.int().nullable(),
      count: z.int().min(1).max(500),
      search: TrailSearch.optional(),
    }),
    output: z.array(TrailLine),
    errors: [],
  }),
  /** How far the trail goes now; null before its first line. */
  "trail.head": call({
    kind: "read",
    reads: ["trail"],
    input: Nothing,
    output: TrailHead.nullable(),
    errors: [],
  }),
  /** The heads noted beside the bench, with the present one, as a file to keep elsewhere; null when the person cancels. */
  "trail.saveHeads": call({
    kind: "read",
    reads: [],
    input: Nothing,
    output: ExportedFile.nullable(),
    errors: ["file.unwritable"],
  }),
  /** Holds the trail against heads noted elsewhere: any text in which they stand as `412:9f86…`. */
  "trail.compareHeads": call({
    kind: "read",
    reads: ["trail"],
    input: z.strictObject({ noted: z.string().max(1_000_000) }),
    output: HeadsComparison.extend({ signatures: SignaturesComparison }),
    errors: ["heads.none"],
  }),
  /** Whether heads are signed with a key of this computer's keychain, and whether they can be. */
  "trail.signing": call({
    kind: "read",
    reads: ["trail"],
    input: Nothing,
    output: TrailSigning,
    errors: [],
  }),
  /** Begins to sign heads with a key that the keychain keeps, or ends it; the trail is told which key. */
  "trail.changeSigning": call({
    kind: "write",
    changes: ["trail"],
    input: z.strictObject({ requestId: RequestId, on: z.boolean() }),
    output: TrailSigning,
    errors: ["person.missing", "keychain.unavailable"],
  }),
  /**
   * Recomputes every result from its readings and every hash of the trail. One runs at a time: another one stops it.
   * `from`: a line that an earlier run followed the trail to; the hashes of lines up to it are not computed again, all
   * else is. Where that line has another hash by now, this is named, and the trail is followed from its first line.
   */
  "trail.verify": call({
    kind: "read",
    reads: ["trail"],
    input: z.strictObject({ requestId: RequestId.optional(), from: TrailHead.optional() }),
    output: VerifyReport,
    errors: ["work.stopped"],
  }),
  /** How far the newest verification since the program was started followed the trail and found it to agree, also one that was stopped. */
  "trail.followedTo": call({
    kind: "read",
    reads: ["trail"],
    input: Nothing,
    output: TrailHead.nullable(),
    errors: [],
  }),
  "backups.list": call({
    kind: "read",
    reads: ["backups"],
    input: Nothing,
    output: z.array(BackupFile),
    errors: [],
  }),
  "backups.make": call({
    kind: "read",
    reads: [],
    changes: ["backups"],
    input: z.strictObject({ requestId: RequestId }),
    output: BackupFile,
    errors: ["file.unwritable", "work.stopped"],
  }),
} as const;
