import { z } from "zod";
import { call, Nothing } from "../call.ts";
import {
  CheckReport,
  ExportChoice,
  ExportProgress,
  ImportChoice,
  ImportPreview,
  ImportTable,
  LARGEST_UPLOAD,
  SheetReport,
  UPLOAD_PART,
  Upload,
} from "../records/exchange.ts";
import { Id, RequestId } from "../records/primitives.ts";
import { NewSheet, Sheet } from "../records/sheet.ts";

const UploadId = z.strictObject({ uploadId: Id });

export const exportCalls = {
  /** Asks for the place where the host asks, and begins to write; null when the person cancels. */
  "exports.begin": call({
    kind: "read",
    reads: [],
    input: ExportChoice,
    output: ExportProgress.nullable(),
    errors: ["sheet.unknown", "file.unwritable"],
  }),
  "exports.status": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ exportId: Id }),
    output: ExportProgress,
    errors: ["export.unknown"],
  }),
  /** Opens the folder of a finished export with the file chosen in it, where the host can (`bench.status`). */
  "exports.showInFolder": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ exportId: Id }),
    output: Nothing,
    errors: ["export.unknown", "folder.unavailable"],
  }),
  /** Stops an export; an earlier file of that name stays as it was. */
  "exports.cancel": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ exportId: Id }),
    output: ExportProgress,
    errors: ["export.unknown"],
  }),
  /**
   * Writes the report that the window shows as a PDF, where the host says; `by` is `window` where the window prints by
   * itself, and then nothing was written. `begun` is null when the person cancels.
   */
  "reports.print": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ sheetId: Id }),
    output: z.strictObject({ by: z.enum(["host", "window"]), begun: ExportProgress.nullable() }),
    errors: ["sheet.unknown", "file.unwritable"],
  }),
  "reports.sheet": call({
    kind: "read",
    reads: [
      "people",
      "laboratory",
      "microscopes",
      "micrometers",
      "calibrations",
      "methods",
      "sheets",
      "rows",
      "attachments",
      "sign-offs",
      "second readings",
      "re-evaluations",
      "trail",
    ],
    input: z.strictObject({ sheetId: Id }),
    output: SheetReport,
    errors: ["sheet.unknown"],
  }),
} as const;

export const uploadCalls = {
  /** Files are taken in part by part, because a request is limited in size. */
  "uploads.begin": call({
    kind: "read",
    reads: [],
    input: z.strictObject({
      fileName: z.string().max(255),
      bytes: z
        .int()
        .min(1, "is empty")
        .max(LARGEST_UPLOAD, "is larger than 64 MB: export or import it in parts"),
    }),
    output: Upload,
    errors: ["file.unwritable"],
  }),
  "uploads.part": call({
    kind: "read",
    reads: [],
    input: z.strictObject({
      uploadId: Id,
      offset: z.int().min(0),
      base64: z
        .string()
        .max(Math.ceil(UPLOAD_PART / 3) * 4 + 4)
        .regex(/^[A-Za-z0-9+/]*={0,2}$/, "is not base64"),
    }),
    output: Upload,
    errors: ["upload.unknown", "upload.out-of-order", "file.unwritable"],
  }),
  "uploads.forget": call({ kind: "read", reads: [], input: UploadId, output: Nothing, errors: [] }),
  /** Holds a workbook that came back against the records it says it was made from. */
  "exchange.check": call({
    kind: "read",
    reads: [],
    input: UploadId.extend({ requestId: RequestId.optional() }),
    output: CheckReport,
    errors: ["upload.unknown", "upload.incomplete", "file.unreadable", "work.stopped"],
  }),
} as const;

export const importCalls = {
  /** Reads a file of earlier readings and guesses what its columns mean for the method given. */
  "imports.read": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ uploadId: Id, worksheet: z.string().nullable(), methodId: Id }),
    output: ImportTable,
    errors: ["upload.unknown", "upload.incomplete", "file.unreadable", "worksheet.unknown", "method.unknown"],
  }),
  /** What the import would become; stores nothing. */
  "imports.preview": call({
    kind: "read",
    reads: [],
    input: ImportChoice,
    output: ImportPreview,
    errors: [
      "upload.unknown",
      "upload.incomplete",
      "file.unreadable",
      "worksheet.unknown",
      "method.unknown",
      "columns.unclear",
    ],
  }),
  /** Opens a sheet with the rows of the file, whole or not at all; every row says where it came from. */
  "imports.accept": call({
    kind: "write",
    changes: ["sheets", "rows", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      choice: ImportChoice,
      sheet: NewSheet,
      /** Refused lines are left out; false: refuse the import while there are any. */
      withoutRefused: z.boolean(),
    }),
    output: Sheet,
    errors: [
      "person.missing",
      "upload.unknown",
      "upload.incomplete",
      "file.unreadable",
      "worksheet.unknown",
      "columns.unclear",
      "conversion.unnamed",
      "lines.refused",
      "method.unknown",
      "microscope.unknown",
      "eyepiece.unknown",
      "objective.unknown",
      "train.unknown",
    ],
  }),
} as const;
