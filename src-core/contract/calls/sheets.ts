import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { BlockChoices, BlockPreview, MOST_CHARACTERS_OF_A_PART } from "../records/block.ts";
import { Eyes, EyesAtTrain } from "../records/eyes.ts";
import { FoundSheets, LabelledRow, MOST_ON_A_PAGE, SheetSearch } from "../records/list-search.ts";
import { Method, MethodDefinition } from "../records/method.ts";
import {
  Id,
  Note,
  OptionalLine,
  Reason,
  RequestId,
  StoredDecimal,
  TypedNumber,
} from "../records/primitives.ts";
import {
  CellDraft,
  NewSheet,
  PlacedRow,
  ReadingCell,
  RowsChanged,
  SampleList,
  Sheet,
  SpecimenRow,
  StagePosition,
  SupersededMeasurement,
} from "../records/sheet.ts";
import { LabelHistory, SheetColumns } from "../records/sheet-columns.ts";
import { ROW_ACT } from "../tags.ts";

/** Why a closed sheet is changed; left out on an open one. */
const WhyClosed = { reason: Reason.optional() };

/** Positions given out at once: more cannot be told apart on a map. */
export const MOST_PLACED_ROWS = 1000;

/** What was taken back or done again, in words, and what can be next. */
/** Rows by id, or every stored row of a range of ordinals. */
const NamedRows = z.union([
  z.strictObject({ ids: z.array(Id).min(1).max(1000) }),
  z.strictObject({ from: z.int().min(1), to: z.int().min(1) }),
]);

export const Undone = z.strictObject({
  words: z.string(),
  changed: RowsChanged,
  undo: z.string().nullable(),
  redo: z.string().nullable(),
});
export type Undone = z.infer<typeof Undone>;

/** Why a sheet cannot be opened. */
const OPENING_REFUSED = [
  "person.missing",
  "method.unknown",
  "microscope.unknown",
  "eyepiece.unknown",
  "objective.unknown",
  "train.unknown",
  "item.out-of-service",
] as const;

export const sheetCalls = {
  /** The newest version of every method. */
  "methods.list": call({
    kind: "read",
    reads: ["methods"],
    input: Nothing,
    output: z.array(Method),
    errors: [],
  }),
  "methods.get": call({
    kind: "read",
    reads: ["methods"],
    input: z.strictObject({ methodId: Id }),
    output: Method,
    errors: ["method.unknown"],
  }),
  /** Defines a method, or the next version of one when `familyId` is given. */
  "methods.define": call({
    kind: "write",
    changes: ["methods", "trail"],
    input: z.strictObject({ requestId: RequestId, familyId: Id.nullable(), definition: MethodDefinition }),
    output: Method,
    errors: ["person.missing", "method.unknown", "method.taken"],
  }),
  /** Newest first. */
  "sheets.list": call({
    kind: "read",
    reads: ["sheets", "rows"],
    input: Nothing,
    output: z.array(Sheet),
    errors: [],
  }),
  /** One page of the sheets that are looked for. */
  "sheets.search": call({
    kind: "read",
    reads: ["sheets", "rows", "methods", "sign-offs"],
    input: SheetSearch,
    output: FoundSheets,
    errors: [],
  }),
  /** Rows whose label holds every word, those entered last first. */
  "rows.byLabel": call({
    kind: "read",
    reads: ["sheets", "rows"],
    input: z.strictObject({ words: z.string().max(200), count: z.int().min(1).max(MOST_ON_A_PAGE) }),
    output: z.array(LabelledRow),
    errors: [],
  }),
  "sheets.get": call({
    kind: "read",
    reads: ["sheets", "drafts"],
    input: z.strictObject({ sheetId: Id }),
    output: z.strictObject({ sheet: Sheet, drafts: z.array(CellDraft) }),
    errors: ["sheet.unknown"],
  }),
  "sheets.open": call({
    kind: "write",
    changes: ["sheets", "trail"],
    input: z.strictObject({ requestId: RequestId, sheet: NewSheet }),
    output: Sheet,
    errors: OPENING_REFUSED,
  }),
  /** Opens a sheet for each of several samples, in their order, all of them or none. */
  "sheets.openMany": call({
    kind: "write",
    changes: ["sheets", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      sheet: NewSheet.omit({ sample: true }),
      samples: SampleList,
    }),
    output: z.array(Sheet),
    errors: OPENING_REFUSED,
  }),
  /** Changes the objective in use; rows already entered keep theirs. */
  "sheets.chooseObjective": call({
    kind: "write",
    changes: ["sheets", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      sheetId: Id,
      objectiveId: Id,
      /** Setting of the changer or stop of the zoom; left out: as it is. */
      intermediateMagnification: StoredDecimal.optional(),
    }),
    output: Sheet,
    errors: [
      "person.missing",
      "sheet.unknown",
      "microscope.unknown",
      "eyepiece.unknown",
      "objective.unknown",
      "train.unknown",
      "item.out-of-service",
    ],
  }),
  /** Records that a person looked at the train in use and found it so. Refused when the sheet has another in use. */
  "sheets.confirmTrain": call({
    kind: "write",
    changes: ["sheets", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      sheetId: Id,
      objectiveId: Id,
      intermediateMagnification: StoredDecimal,
      /** mm as typed; empty when not said. */
      interpupillary: TypedNumber,
      /** Left out: as this person had them at this train last. */
      eyes: Eyes.optional(),
    }),
    output: Sheet,
    errors: ["person.missing", "sheet.unknown", "train.differs", "item.out-of-service"],
  }),
  /** What one person, or everybody when null, last said of dioptre, sleeve and glasses at each train. */
  "sheets.eyesAtTrains": call({
    kind: "read",
    reads: ["sheets"],
    input: z.strictObject({ personId: Id.nullable() }),
    output: z.array(EyesAtTrain),
    errors: [],
  }),
  /** Labels, struck rows and sizes of rows `from`… by ordinal, by column, for panels over the whole sheet. */
  "sheets.columns": call({
    kind: "read",
    reads: ["sheets", "rows"],
    input: z.strictObject({ sheetId: Id, from: z.int().min(1), count: z.int().min(1).max(25_000) }),
    output: SheetColumns,
    errors: ["sheet.unknown"],
  }),
  /** What each label usually measures on the other sheets of this method, whatever its version. */
  "sheets.history": call({
    kind: "read",
    reads: ["sheets", "methods", "rows"],
    input: z.strictObject({ sheetId: Id }),
    output: z.array(LabelHistory),
    errors: ["sheet.unknown"],
  }),
  /** Rows `from`… by ordinal, at most `count`, with the total. */
  "rows.page": call({
    kind: "read",
    reads: ["rows"],
    input: z.strictObject({ sheetId: Id, from: z.int().min(1), count: z.int().min(1).max(5000) }),
    output: z.strictObject({ total: z.int(), rows: z.array(SpecimenRow) }),
    errors: ["sheet.unknown"],
  }),
  /**
   * Rows of a sheet whose place on the stage is known, by ordinal, at most `count`: those whose label holds `words`, whose
   * square begins so, or whose number it is.
   */
  "rows.placed": call({
    kind: "read",
    reads: ["rows"],
    input: z.strictObject({
      sheetId: Id,
      words: z.string().max(200),
      count: z.int().min(1).max(MOST_PLACED_ROWS),
    }),
    output: z.strictObject({ total: z.int(), rows: z.array(PlacedRow) }),
    errors: ["sheet.unknown"],
  }),
  /**
   * Takes one reading. The row is created by its first reading, with the id the window made. The size is derived here
   * from the typed text when both edges are in; the objective in use of the sheet decides the train of a new
   * measurement. Clears the draft of that cell. Acknowledged means on disk.
   */
  "rows.enter": call({
    kind: "write",
    changes: ROW_ACT,
    input: z.strictObject({
      requestId: RequestId,
      sheetId: Id,
      rowId: Id,
      cell: ReadingCell,
      typed: z.string().max(400),
      /** Label for a row that is created by this reading. */
      label: OptionalLine,
      ...WhyClosed,
    }),
    output: SpecimenRow,
    errors: [
      "person.missing",
      "sheet.unknown",
      "dimension.unknown",
      "reading.unreadable",
      "reading.mixed",
      "row.struck",
      "sheet.closed",
      "item.out-of-service",
    ],
  }),
  /** Label and note of a row, and where it lies on the stage; a `stage` that is left out stays as it is. */
  "rows.describe": call({
    kind: "write",
    changes: ROW_ACT,
    input: z.strictObject({
      requestId: RequestId,
      sheetId: Id,
      rowId: Id,
      label: OptionalLine,
      note: Note,
      stage: StagePosition.nullable().optional(),
      ...WhyClosed,
    }),
    output: SpecimenRow,
    errors: ["person.missing", "row.unknown", "sheet.closed"],
  }),
  "rows.strike": call({
    kind: "write",
    changes: ROW_ACT,
    input: z.strictObject({ requestId: RequestId, sheetId: Id, rowId: Id, reason: Reason }),
    output: SpecimenRow,
    errors: ["person.missing", "row.unknown", "row.struck"],
  }),
  /** Strikes every row named that is not struck yet, as one act: one undo takes it back. */
  "rows.strikeMany": call({
    kind: "write",
    changes: ROW_ACT,
    input: z.strictObject({ requestId: RequestId, sheetId: Id, rows: NamedRows, reason: Reason }),
    output: RowsChanged,
    errors: ["person.missing", "sheet.unknown", "row.unknown", "row.struck"],
  }),
  /**
   * Says that rows were measured with another objective: an amendment. Every size is derived again with the factor in
   * force now of the new train; the old results are kept. Rows are named by id or as a range of ordinals.
   */
  "rows.changeObjective": call({
    kind: "write",
    changes: ROW_ACT,
    input: z.strictObject({
      requestId: RequestId,
      sheetId: Id,
      rows: NamedRows,
      objectiveId: Id,
      reason: Reason,
    }),
    output: RowsChanged,
    errors: [
      "person.missing",
      "sheet.unknown",
      "objective.unknown",
      "train.unknown",
      "row.unknown",
      "row.struck",
    ],
  }),
  /**
   * Gives sizes to readings that stayed divisions because their train had no factor when they were read: an amendment, with
   * the factor in force now. Results that have a size stay as they are.
   */
  "rows.convert": call({
    kind: "write",
    changes: ROW_ACT,
    input: z.strictObject({ requestId: RequestId, sheetId: Id, rows: NamedRows, reason: Reason }),
    output: RowsChanged,
    errors: ["person.missing", "sheet.unknown", "row.unknown", "row.struck", "rows.nothing-to-convert"],
  }),
  /** Results of a row that were replaced, oldest first. */
  "rows.superseded": call({
    kind: "read",
    reads: ["rows"],
    input: z.strictObject({ rowId: Id }),
    output: z.array(SupersededMeasurement),
    errors: ["row.unknown"],
  }),
  /** What undo and redo would do on this sheet, in words; null: nothing. */
  "rows.journal": call({
    kind: "read",
    reads: ["rows"],
    input: z.strictObject({ sheetId: Id }),
    output: z.strictObject({ undo: z.string().nullable(), redo: z.string().nullable() }),
    errors: ["sheet.unknown"],
  }),
  /** Takes back the last act on the rows of this sheet, by a new act of its own. No act is ever erased. */
  "rows.undo": call({
    kind: "write",
    changes: ROW_ACT,
    input: z.strictObject({ requestId: RequestId, sheetId: Id, ...WhyClosed }),
    output: Undone,
    errors: ["person.missing", "sheet.unknown", "undo.nothing", "undo.blocked", "sheet.closed"],
  }),
  /** Does again what was taken back last; nothing is left to redo once something else has been entered. */
  "rows.redo": call({
    kind: "write",
    changes: ROW_ACT,
    input: z.strictObject({ requestId: RequestId, sheetId: Id, ...WhyClosed }),
    output: Undone,
    errors: ["person.missing", "sheet.unknown", "redo.nothing", "undo.blocked", "sheet.closed"],
  }),
  /**
   * Puts one part of pasted tab-separated text aside; `part` counts from 1, parts come in order and `blockId` is made by
   * the window. Kept for a day, on no sheet and in no result.
   */
  "rows.stageBlock": call({
    kind: "write",
    changes: ["pasted blocks"],
    input: z.strictObject({
      sheetId: Id,
      blockId: Id,
      part: z.int().min(1).max(200),
      text: z.string().max(MOST_CHARACTERS_OF_A_PART),
    }),
    output: z.strictObject({ lines: z.int() }),
    errors: ["sheet.unknown", "block.out-of-order", "block.too-long"],
  }),
  /** What a staged block would become; changes nothing. */
  "rows.previewBlock": call({
    kind: "read",
    reads: ["pasted blocks", "sheets", "rows", "calibrations"],
    input: BlockChoices,
    output: BlockPreview,
    errors: ["sheet.unknown", "block.unknown", "dimension.unknown"],
  }),
  /** Takes a staged block in, whole: refused while any cell that is not left out cannot be read. */
  "rows.enterBlock": call({
    kind: "write",
    changes: ROW_ACT,
    input: z.strictObject({ requestId: RequestId, block: BlockChoices, ...WhyClosed }),
    output: RowsChanged,
    errors: [
      "sheet.closed",
      "person.missing",
      "sheet.unknown",
      "block.unknown",
      "block.fails",
      "dimension.unknown",
      "objective.unknown",
      "item.out-of-service",
    ],
  }),
  /** Keeps half-typed text so that it comes back after a crash; empty text forgets it. */
  "rows.keepDraft": call({
    kind: "write",
    changes: ["drafts"],
    input: CellDraft,
    output: Nothing,
    errors: ["sheet.unknown"],
  }),
} as const;
