import { z } from "zod";
import { Sha256 } from "../records/attachment.ts";
import { Id, Note, OptionalLine, StoredDecimal } from "../records/primitives.ts";
import { AgreementReport, SecondReading } from "../records/second-reading.ts";
import {
  Measurement,
  ReadingCell,
  Sheet,
  SpecimenRow,
  StagePosition,
  TrainConfirmation,
} from "../records/sheet.ts";
import { SHEET_STATES, SignOff } from "../records/sign-off.ts";
import { changeOf } from "./change-of.ts";

/** What stands beside the readings of a dimension and cannot be recomputed from them. */
export const AboutReadings = Measurement.pick({
  trainId: true,
  flags: true,
  missing: true,
  enteredAt: true,
  enteredBy: true,
});
export type AboutReadings = z.infer<typeof AboutReadings>;

/** The readings of a dimension by their place (`left`, `right 2`, `direct`), and `calibration`: the one behind its size. */
export const ReadingsTold = z.record(z.string(), z.string().nullable());
export type ReadingsTold = z.infer<typeof ReadingsTold>;

export const RowTold = SpecimenRow.pick({
  ordinal: true,
  label: true,
  note: true,
  stage: true,
  struck: true,
  elsewhere: true,
});

/** How a row stands after an act that changed several things at once. */
export const RowStateTold = z.strictObject({
  onSheet: z.boolean(),
  struck: z.boolean(),
  /** By dimension; null: nothing is measured there now. */
  now: z.record(z.string(), ReadingsTold.nullable()),
  about: z.record(z.string(), AboutReadings),
  /** The row itself; null: taken away. */
  row: RowTold.nullable(),
});
export type RowStateTold = z.infer<typeof RowStateTold>;

const Size = StoredDecimal.nullable();

/** One reading typed into its cell. */
const ReadingEntered = ReadingCell.pick({ dimension: true, edge: true }).extend({
  /** Absent: the first. */
  repeat: z.int().min(2).optional(),
  from: z.string().nullable(),
  to: z.string().nullable(),
  ...Measurement.pick({ trainId: true, calibrationId: true, flags: true, missing: true }).shape,
  /** With the first reading of a row. */
  row: RowTold.extend({ sheetId: Id }).optional(),
  size: changeOf(Size),
});

/** One line of a block that was pasted. */
const LinePasted = RowStateTold.extend({
  pasted: z.int(),
  ...SpecimenRow.pick({ label: true, note: true, stage: true }).shape,
});

const Replaced = RowStateTold.extend({
  size: z.array(z.strictObject({ dimension: z.string(), from: Size, to: Size })),
});

/** The words of the act that was taken back, or done again. */
const TakenBack = RowStateTold.extend({ words: z.string() });

export const SheetOpened = Sheet.pick({ number: true, sample: true, note: true, methodId: true }).extend({
  customer: Sheet.shape.customer.unwrap().nullable(),
  ...Sheet.pick({ containers: true, volume: true, portion: true }).shape,
  trainId: Id,
});

/** The file that readings of before came from. */
const Source = z.strictObject({ fileName: z.string(), sha256: Sha256 });

/** A size that came in micrometres, as typed: no reading behind it. By what it was converted, the row itself tells. */
const Untraceable = z.strictObject({ dimension: z.string(), typed: z.string() });

const Given = SignOff.pick({ kind: true, words: true, dataSha256: true, pinReset: true });
const StateChanged = changeOf(z.enum(SHEET_STATES));

/** Sheets, their rows, second readings and sign-offs. */
export const SHEET_DETAILS = {
  "sheets.open": { sheet: SheetOpened },
  "sheets.confirmTrain": {
    sheet: z.strictObject({ confirmed: TrainConfirmation.omit({ at: true, by: true }) }),
  },
  "sheets.chooseObjective": {
    sheet: z.strictObject({
      objectiveId: changeOf(Id),
      /** Absent: the changer stayed as it was. */
      intermediateMagnification: changeOf(StoredDecimal).optional(),
    }),
  },
  "sheets.close": { sheet: Given },
  "sheets.review": { sheet: Given },
  "sheets.sign": { sheet: Given },
  "sheets.reopen": { sheet: StateChanged },
  "sheets.signatureFell": { sheet: StateChanged },
  "sheets.flagsFollowed": { sheet: z.strictObject({ checkId: Id, results: z.int() }) },
  "sheets.reevaluated": { sheet: z.strictObject({ reevaluationId: Id, from: Id, to: Id }) },
  /** A sheet is told twice: as opened, and with the file it came from. */
  "imports.accept": {
    sheet: z.union([
      SheetOpened,
      z.strictObject({ import: Source.extend({ rows: z.int(), refusedLines: z.int() }) }),
    ]),
    specimen_row: RowStateTold.extend({
      import: Source.extend({ line: z.int(), convertedElsewhere: z.array(Untraceable).readonly() }),
    }),
  },
  "rows.enter": { specimen_row: ReadingEntered },
  "rows.amend": { specimen_row: z.union([ReadingEntered, LinePasted]) },
  "rows.enterBlock": { specimen_row: LinePasted },
  "rows.describe": {
    specimen_row: z.strictObject({
      label: changeOf(OptionalLine),
      note: changeOf(Note),
      stage: changeOf(StagePosition.nullable()).optional(),
    }),
  },
  "rows.strike": { specimen_row: z.strictObject({ struck: z.literal(true) }) },
  "rows.changeObjective": {
    specimen_row: Replaced.extend({ train: z.strictObject({ from: z.array(Id), to: Id }) }),
  },
  "rows.convert": { specimen_row: Replaced },
  "rows.undo": { specimen_row: TakenBack },
  "rows.redo": { specimen_row: TakenBack },
  "secondReadings.start": {
    second_reading: SecondReading.pick({ sheetId: true, choice: true, sameReader: true, note: true }).extend({
      rowIds: z.array(Id),
    }),
  },
  "secondReadings.enter": {
    second_reading: ReadingCell.extend({
      repeat: z.int().min(1),
      rowId: Id,
      from: z.string().nullable(),
      to: z.string(),
      about: AboutReadings,
    }),
  },
  "secondReadings.close": {
    second_reading: AgreementReport.pick({ dimensions: true, leftOut: true }).extend({
      closed: z.literal(true),
    }),
  },
} as const;
