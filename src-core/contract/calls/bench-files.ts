import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { ExportedFile } from "../records/exchange.ts";
import { Instant, Reason, RequestId } from "../records/primitives.ts";
import { TAGS } from "../tags.ts";

/** What a backup turned out to hold when it was opened, migrated on a copy and read. */
export const BackupCheck = z.strictObject({
  fileName: z.string(),
  madeAt: Instant,
  /** File version of the backup and of this program. */
  version: z.int(),
  programVersion: z.int(),
  sheets: z.int(),
  rows: z.int(),
  trailLines: z.int(),
  /** Time of the newest line of its trail; null for an empty bench. */
  newestAct: Instant.nullable(),
  attachments: z.int(),
  missingAttachments: z.int(),
});
export type BackupCheck = z.infer<typeof BackupCheck>;

export const benchFileCalls = {
  /** Opens a copy of the backup as this program would, and says what is in it. */
  "backups.check": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ fileName: z.string().max(200), requestId: RequestId.optional() }),
    output: BackupCheck,
    errors: ["backup.unknown", "backup.unusable", "file.unwritable", "work.stopped"],
  }),
  /**
   * Checks the backup as above and sets it in the place of the bench, which is kept aside under another name. The person
   * at the bench is then the one of the backup; windows read everything anew.
   */
  "backups.restore": call({
    kind: "write",
    changes: TAGS,
    input: z.strictObject({ requestId: RequestId, fileName: z.string().max(200), reason: Reason }),
    output: z.strictObject({ restored: BackupCheck, keptAside: z.string(), words: z.string() }),
    errors: ["person.missing", "backup.unknown", "backup.unusable", "file.unwritable", "bench.busy"],
  }),
  /**
   * The whole bench with its attachments as one file, checked after writing. On another machine it goes into the backups
   * folder and is restored from there, or takes the place of `bench.sqlite` in an empty folder.
   */
  "backups.handOver": call({
    kind: "read",
    reads: [],
    input: Nothing,
    output: ExportedFile.nullable(),
    errors: ["file.unwritable", "attachment.missing", "attachment.damaged"],
  }),
} as const;
