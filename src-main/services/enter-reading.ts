import type { ParsedInput } from "#core/contract/calls.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Measurement, ReadingCell, Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { Refusal } from "../dispatch/refusals.ts";
import { calibrationInForce, findCalibration } from "../store/calibration-repository.ts";
import type { ReadableDb } from "../store/connection.ts";
import { forgetDraft } from "../store/draft-repository.ts";
import { certificateDueOn } from "../store/micrometer-repository.ts";
import { findMicroscope } from "../store/microscope-repository.ts";
import { appendRow, findRow, putMeasurement } from "../store/row-repository.ts";
import { findTrain, findTrainOf } from "../store/train-repository.ts";
import type { Acting } from "./act.ts";
import { convertReadings, flagReadings, whyNoSize } from "./conversion.ts";
import { requireMethod } from "./methods.ts";
import { requireSheet } from "./sheets.ts";

type Entry = ParsedInput<"rows.enter">;

/** The text to keep: as typed, without blanks around it. @throws Refusal `reading.unreadable` */
function readableText(typed: string): string {
  try {
    readDecimal("typed", typed);
    return typed.trim();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new Refusal("reading.unreadable", `The reading ${error.reason}.`, {
      field: "typed",
      hint: "Type it in divisions, as 40 or 40.5.",
    });
  }
}

function trainInUse(db: ReadableDb, sheet: Sheet): OpticalTrain {
  const train = findTrainOf(db, sheet);
  if (!train) throw new Error(`the train in use of sheet ${sheet.number} is missing`);
  return train;
}

function trainOf(db: ReadableDb, measurement: Measurement): OpticalTrain {
  const train = findTrain(db, measurement.trainId);
  if (!train) throw new Error(`the train ${measurement.trainId} of a measurement is missing`);
  return train;
}

/** The calibration the measurement is frozen to, else the one in force now for its train. */
function calibrationFor(
  db: ReadableDb,
  before: Measurement | undefined,
  train: OpticalTrain,
): CalibrationRecord | null {
  if (!before?.calibrationId) return calibrationInForce(db, train.id);
  const frozen = findCalibration(db, before.calibrationId);
  if (!frozen) throw new Error(`the calibration ${before.calibrationId} of a measurement is missing`);
  return frozen;
}

function derive(
  { db, at, by }: Acting,
  sheet: Sheet,
  cell: ReadingCell,
  typed: string,
  before: Measurement | undefined,
  today: string,
): Measurement {
  const train = before ? trainOf(db, before) : trainInUse(db, sheet);
  const left = cell.edge === "left" ? typed : (before?.left ?? null);
  const right = cell.edge === "right" ? typed : (before?.right ?? null);
  const entered = {
    dimension: cell.dimension,
    left,
    right,
    trainId: train.id,
    enteredAt: at,
    enteredBy: by.id,
  };
  if (left === null || right === null) {
    return { ...entered, calibrationId: null, divisions: null, size: null, missing: null, flags: [] };
  }
  const method = requireMethod(db, sheet.methodId, "sheetId");
  const microscope = findMicroscope(db, sheet.microscopeId);
  if (!microscope) throw new Error(`the microscope of sheet ${sheet.number} is missing`);
  const calibration = calibrationFor(db, before, train);
  const converted = convertReadings(left, right, method.definition, calibration);
  const flags = flagReadings(left, right, converted.size, {
    method,
    microscope,
    train,
    calibration,
    certificateDueOn: calibration ? certificateDueOn(db, calibration.certificateId) : null,
    personId: by.id,
    today,
  });
  return {
    ...entered,
    ...converted,
    calibrationId: calibration?.id ?? null,
    missing: calibration ? null : whyNoSize(train, microscope),
    flags,
  };
}

function requireDimension(db: ReadableDb, sheet: Sheet, dimension: string): void {
  const { dimensions } = requireMethod(db, sheet.methodId, "sheetId").definition;
  if (dimensions.some((one) => one.key === dimension)) return;
  throw new Refusal("dimension.unknown", "The method of this sheet has no such dimension.", {
    field: "cell.dimension",
    hint: `It has ${dimensions.map((one) => one.name).join(", ")}.`,
  });
}

/** The row of the entry, made by its first reading. */
function rowFor(db: Acting["db"], entry: Entry): SpecimenRow {
  const there = findRow(db, entry.rowId);
  if (!there) {
    appendRow(db, entry.sheetId, entry.rowId, entry.label);
    return rowAsStored(db, entry.rowId);
  }
  if (there.sheetId !== entry.sheetId) throw new InputError("rowId", "is a row of another sheet");
  if (!there.struck) return there;
  throw new Refusal("row.struck", `Row ${there.ordinal} is struck: ${there.struck.reason}`, {
    field: "rowId",
    hint: "Measure the specimen again in a new row.",
  });
}

function rowAsStored(db: ReadableDb, id: string): SpecimenRow {
  const row = findRow(db, id);
  if (!row) throw new Error(`row ${id} is missing after it was written`);
  return row;
}

function noteEntry(acting: Acting, row: SpecimenRow, cell: ReadingCell, now: Measurement): void {
  const before = row.measurements.find((one) => one.dimension === cell.dimension);
  const from = before?.[cell.edge] ?? null;
  acting.note({
    ...(from === null ? {} : { act: "rows.amend" }),
    subject: "specimen_row",
    subjectId: row.id,
    detail: {
      ...cell,
      from,
      to: now[cell.edge],
      trainId: now.trainId,
      calibrationId: now.calibrationId,
      size: { from: before?.size?.value ?? null, to: now.size?.value ?? null },
    },
  });
}

/**
 * Takes one reading: parses it, creates its row when it is the first, converts when both edges are in, and tells the
 * trail. All within the transaction of `acting`.
 * @throws Refusal `sheet.unknown`, `dimension.unknown`, `reading.unreadable`, `row.struck`; InputError `rowId`
 */
export function enterReading(acting: Acting, entry: Entry, today: string): SpecimenRow {
  const { db } = acting;
  const { cell } = entry;
  const sheet = requireSheet(db, entry.sheetId);
  requireDimension(db, sheet, cell.dimension);
  const typed = readableText(entry.typed);
  const row = rowFor(db, entry);
  const before = row.measurements.find((one) => one.dimension === cell.dimension);
  const now = derive(acting, sheet, cell, typed, before, today);
  forgetDraft(db, sheet.id, row.id, cell);
  const sameReading = before?.[cell.edge] === typed && before.calibrationId === now.calibrationId;
  if (sameReading) return row;
  putMeasurement(db, row.id, now);
  noteEntry(acting, row, cell, now);
  return rowAsStored(db, row.id);
}
