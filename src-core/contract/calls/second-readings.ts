import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { Id, Note, RequestId } from "../records/primitives.ts";
import {
  AgreementReport,
  SecondReading,
  SecondReadingChoice,
  SecondReadingRow,
} from "../records/second-reading.ts";
import { CellDraft, ReadingCell } from "../records/sheet.ts";

/** Text left in a cell of a second reading when the window went away. */
const HalfTypedReading = CellDraft.omit({ sheetId: true });

export const secondReadingCalls = {
  /** Second readings of one sheet, newest first. */
  "secondReadings.list": call({
    kind: "read",
    reads: ["second readings"],
    input: z.strictObject({ sheetId: Id }),
    output: z.array(SecondReading),
    errors: ["sheet.unknown"],
  }),
  /** Rows in the order they are to be read; while it is open, nothing of the first readings is in the answer. */
  "secondReadings.get": call({
    kind: "read",
    reads: ["second readings", "drafts"],
    input: z.strictObject({ secondReadingId: Id }),
    output: z.strictObject({
      secondReading: SecondReading,
      rows: z.array(SecondReadingRow),
      /** null while open. */
      report: AgreementReport.nullable(),
      /** Half-typed text of the second reader, none once it is closed. */
      drafts: z.array(HalfTypedReading),
    }),
    errors: ["second-reading.unknown"],
  }),
  /** Chooses the rows and begins; the person at the bench is the reader. */
  "secondReadings.start": call({
    kind: "write",
    changes: ["second readings", "trail"],
    input: z.strictObject({ requestId: RequestId, sheetId: Id, choice: SecondReadingChoice, note: Note }),
    output: SecondReading,
    errors: [
      "person.missing",
      "sheet.unknown",
      "row.unknown",
      "second-reading.nothing",
      "second-reading.open",
    ],
  }),
  /** Takes one reading of the second reader. It is converted with the calibration of the first reading. */
  "secondReadings.enter": call({
    kind: "write",
    changes: ["second readings", "drafts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      secondReadingId: Id,
      rowId: Id,
      cell: ReadingCell,
      typed: z.string().max(400),
    }),
    output: SecondReadingRow,
    errors: [
      "person.missing",
      "second-reading.unknown",
      "second-reading.closed",
      "second-reading.reader",
      "row.unknown",
      "dimension.unknown",
      "reading.unreadable",
      "reading.mixed",
      "item.out-of-service",
    ],
  }),
  /** Keeps half-typed text so that it comes back after a crash; empty text forgets it. */
  "secondReadings.keepDraft": call({
    kind: "write",
    changes: ["drafts"],
    input: HalfTypedReading.extend({ secondReadingId: Id }),
    output: Nothing,
    errors: ["second-reading.unknown", "second-reading.closed"],
  }),
  /** Ends it, brings both readings to light and keeps the report of their agreement. */
  "secondReadings.close": call({
    kind: "write",
    changes: ["second readings", "drafts", "trail"],
    input: z.strictObject({ requestId: RequestId, secondReadingId: Id }),
    output: SecondReading,
    errors: ["person.missing", "second-reading.unknown", "second-reading.closed"],
  }),
} as const;
