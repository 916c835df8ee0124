import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { Method, MethodDefinition } from "../records/method.ts";
import { Id, Note, OptionalLine, Reason, RequestId } from "../records/primitives.ts";
import { CellDraft, NewSheet, ReadingCell, Sheet, SpecimenRow } from "../records/sheet.ts";

export const sheetCalls = {
  /** The newest version of every method. */
  "methods.list": call({ kind: "read", input: Nothing, output: z.array(Method), errors: [] }),
  "methods.get": call({
    kind: "read",
    input: z.strictObject({ methodId: Id }),
    output: Method,
    errors: ["method.unknown"],
  }),
  /** Defines a method, or the next version of one when `familyId` is given. */
  "methods.define": call({
    kind: "write",
    input: z.strictObject({ requestId: RequestId, familyId: Id.nullable(), definition: MethodDefinition }),
    output: Method,
    errors: ["person.missing", "method.unknown", "method.taken"],
  }),
  /** Newest first. */
  "sheets.list": call({ kind: "read", input: Nothing, output: z.array(Sheet), errors: [] }),
  "sheets.get": call({
    kind: "read",
    input: z.strictObject({ sheetId: Id }),
    output: z.strictObject({ sheet: Sheet, drafts: z.array(CellDraft) }),
    errors: ["sheet.unknown"],
  }),
  "sheets.open": call({
    kind: "write",
    input: z.strictObject({ requestId: RequestId, sheet: NewSheet }),
    output: Sheet,
    errors: [
      "person.missing",
      "method.unknown",
      "microscope.unknown",
      "eyepiece.unknown",
      "objective.unknown",
      "train.unknown",
    ],
  }),
  /** Changes the objective in use; rows already entered keep theirs. */
  "sheets.chooseObjective": call({
    kind: "write",
    input: z.strictObject({ requestId: RequestId, sheetId: Id, objectiveId: Id }),
    output: Sheet,
    errors: ["person.missing", "sheet.unknown", "objective.unknown"],
  }),
  /** Rows `from`… by ordinal, at most `count`, with the total. */
  "rows.page": call({
    kind: "read",
    input: z.strictObject({ sheetId: Id, from: z.int().min(1), count: z.int().min(1).max(5000) }),
    output: z.strictObject({ total: z.int(), rows: z.array(SpecimenRow) }),
    errors: ["sheet.unknown"],
  }),
  /**
   * Takes one reading. The row is created by its first reading, with the id the window made. The size is derived here
   * from the typed text when both edges are in; the objective in use of the sheet decides the train of a new
   * measurement. Clears the draft of that cell. Acknowledged means on disk.
   */
  "rows.enter": call({
    kind: "write",
    input: z.strictObject({
      requestId: RequestId,
      sheetId: Id,
      rowId: Id,
      cell: ReadingCell,
      typed: z.string().max(400),
      /** Label for a row that is created by this reading. */
      label: OptionalLine,
    }),
    output: SpecimenRow,
    errors: ["person.missing", "sheet.unknown", "dimension.unknown", "reading.unreadable", "row.struck"],
  }),
  "rows.describe": call({
    kind: "write",
    input: z.strictObject({ requestId: RequestId, sheetId: Id, rowId: Id, label: OptionalLine, note: Note }),
    output: SpecimenRow,
    errors: ["person.missing", "row.unknown"],
  }),
  "rows.strike": call({
    kind: "write",
    input: z.strictObject({ requestId: RequestId, sheetId: Id, rowId: Id, reason: Reason }),
    output: SpecimenRow,
    errors: ["person.missing", "row.unknown", "row.struck"],
  }),
  /** Keeps half-typed text so that it comes back after a crash; empty text forgets it. */
  "rows.keepDraft": call({ kind: "write", input: CellDraft, output: Nothing, errors: ["sheet.unknown"] }),
} as const;
