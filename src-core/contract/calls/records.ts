import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { ExportedFile } from "../records/exchange.ts";
import { Id, RequestId } from "../records/primitives.ts";
import { BackupFile, TrailLine, VerifyReport } from "../records/trail.ts";

export const recordCalls = {
  "exports.workbook": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ sheetId: Id, kind: z.enum(["live", "values"]) }),
    output: ExportedFile.nullable(),
    errors: ["sheet.unknown", "file.unwritable"],
  }),
  /** Newest first: lines with a sequence below `before` (null: from the end). */
  "trail.page": call({
    kind: "read",
    reads: ["trail"],
    input: z.strictObject({ before: z.int().nullable(), count: z.int().min(1).max(500) }),
    output: z.array(TrailLine),
    errors: [],
  }),
  /** Recomputes every result from its readings and every hash of the trail. */
  "trail.verify": call({ kind: "read", reads: ["trail"], input: Nothing, output: VerifyReport, errors: [] }),
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
    errors: ["file.unwritable"],
  }),
} as const;
