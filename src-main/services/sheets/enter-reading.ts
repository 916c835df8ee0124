import type { ParsedInput } from "#core/contract/calls.ts";
import type { Method, MethodDimension } from "#core/contract/records/method.ts";
import type { Measurement, ReadingCell, SpecimenRow } from "#core/contract/records/sheet.ts";
import { entryOfEdge, readingAt, withReading } from "#core/measurement/readings.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { isInTrail } from "../../store/repositories/audit-trail.ts";
import { forgetDraft } from "../../store/repositories/draft-repository.ts";
import {
  appendRow,
  findRow,
  findRowEvenUndone,
  putMeasurement,
  stateOfRow,
} from "../../store/repositories/row-repository.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";
import { changesOfRow, journalAct } from "./row-journal.ts";
import { SheetConverter } from "./sheet-converter.ts";
import { requireSheet } from "./sheets.ts";

type Entry = ParsedInput<"rows.enter">;

/** The text to keep: as typed, without blanks around it. @throws Refusal `reading.unreadable` */
export function readableText(typed: string): string {
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

/** A dimension begun at its edges is not finished with divisions. @throws Refusal `reading.mixed` */
export function requireOneKind(before: Measurement | undefined, cell: ReadingCell): void {
  const entry = entryOfEdge(cell.edge);
  if (!before || before.entry === entry) return;
  throw new Refusal(
    "reading.mixed",
    entry === "direct"
      ? "This dimension of this row is being read at its two edges."
      : "This dimension of this row was read directly in divisions.",
    { field: "cell.edge", hint: "Go on in the same way, or take the first reading back." },
  );
}

/** One reading to take in. */
export interface TypedCell {
  readonly cell: ReadingCell;
  readonly typed: string;
}

/**
 * A measurement with some of its cells typed, at least one: train and calibration are those of its first reading, else
 * those in use and in force now; size and flags follow from all its readings.
 * @throws Refusal `item.out-of-service` for a new reading with an objective that left the turret or a lent eyepiece
 */
export function measurementWith(
  { at, by }: Pick<WriteContext, "at" | "by">,
  converter: SheetConverter,
  { cells, label }: { readonly cells: readonly [TypedCell, ...TypedCell[]]; readonly label: string },
  before: Measurement | undefined,
): Measurement {
  const [{ cell }] = cells;
  for (const one of cells) requireOneKind(before, one.cell);
  const train = before ? converter.trainOf(before) : converter.trainInUse();
  if (cells.some((one) => readingAt(before, one.cell) === null)) converter.requireThere(train);
  const calibration = before?.calibrationId
    ? converter.calibration(before.calibrationId)
    : converter.calibrationInForce(train.id);
  const readings = cells.reduce<Pick<Measurement, "left" | "right" | "direct" | "repeats"> | undefined>(
    (taken, one) => withReading(taken, one.cell, one.typed),
    before,
  );
  if (!readings) throw new Error("a measurement needs a reading");
  const { left, right, direct, repeats } = readings;
  const { dimension } = cell;
  const taken = { dimension, entry: entryOfEdge(cell.edge), left, right, direct, repeats };
  return {
    ...taken,
    trainId: train.id,
    ...converter.convert(taken, { label, train, calibration }),
    enteredAt: at,
    enteredBy: by.id,
  };
}

/** @throws Refusal `dimension.unknown` */
export function requireDimension({ definition }: Method, dimension: string): MethodDimension {
  const found = definition.dimensions.find((one) => one.key === dimension);
  if (found) return found;
  throw new Refusal("dimension.unknown", "The method of this sheet has no such dimension.", {
    field: "cell.dimension",
    hint: `It has ${definition.dimensions.map((one) => one.name).join(", ")}.`,
  });
}

/** The row of the entry; null before its first reading. */
function rowOf(db: WriteContext["db"], entry: Entry): SpecimenRow | null {
  const there = findRow(db, entry.rowId);
  const elsewhere = there ?? findRowEvenUndone(db, entry.rowId);
  if (elsewhere && elsewhere.sheetId !== entry.sheetId) {
    throw new InputError("rowId", "is a row of another sheet");
  }
  // Lines of the trail are found by the identifier of what they tell of: two records under one would mix.
  if (!elsewhere && isInTrail(db, entry.rowId))
    throw new InputError("rowId", "is the identifier of another record");
  if (!there?.struck) return there;
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

function noteEntry(
  ctx: WriteContext,
  rowId: string,
  cell: ReadingCell,
  before: Measurement | undefined,
  now: Measurement,
  made: SpecimenRow | null,
): void {
  const from = readingAt(before, cell);
  const { repeat, ...place } = cell;
  ctx.audit({
    act: from === null ? "rows.enter" : "rows.amend",
    subject: "specimen_row",
    subjectId: rowId,
    detail: {
      ...place,
      ...(repeat === 1 ? {} : { repeat }),
      from,
      to: readingAt(now, cell),
      trainId: now.trainId,
      calibrationId: now.calibrationId,
      flags: now.flags,
      missing: now.missing,
      ...(made ? { row: { sheetId: made.sheetId, ...stateOfRow(made) } } : {}),
      size: { from: before?.size?.value ?? null, to: now.size?.value ?? null },
    },
  });
}

/** `41.5 in row 12, Polar axis, left edge`. */
function wordsOf(row: SpecimenRow, dimension: MethodDimension, cell: ReadingCell, typed: string): string {
  const edge = cell.edge === "direct" ? "divisions" : `${cell.edge} edge`;
  const repeat = cell.repeat === 1 ? "" : `, reading ${cell.repeat}`;
  return `${typed} in row ${row.ordinal}, ${dimension.name}, ${edge}${repeat}`;
}

/**
 * Takes one reading: parses it, creates its row when it is the first, converts when a reading is complete, and tells
 * journal and trail. All within the transaction of `ctx`.
 * @throws Refusal `sheet.unknown`, `dimension.unknown`, `reading.unreadable`, `reading.mixed`, `row.struck`,
 *   `item.out-of-service` for a new reading with an objective that left the turret or a lent eyepiece;
 *   InputError `rowId`
 */
export function enterReading(ctx: WriteContext, entry: Entry, today: string): SpecimenRow {
  const { db } = ctx;
  const { cell } = entry;
  const sheet = requireSheet(db, entry.sheetId);
  const converter = new SheetConverter(db, sheet, { personId: ctx.by.id, today });
  const dimension = requireDimension(converter.method, cell.dimension);
  const typed = readableText(entry.typed);
  const row = rowOf(db, entry);
  const before = row?.measurements.find((one) => one.dimension === cell.dimension);
  const label = row?.label ?? entry.label;
  const now = measurementWith(ctx, converter, { cells: [{ cell, typed }], label }, before);
  forgetDraft(db, sheet.id, entry.rowId, cell);
  if (row && readingAt(before, cell) === typed && before?.calibrationId === now.calibrationId) return row;
  if (!row) appendRow(db, sheet.id, entry.rowId, entry.label);
  putMeasurement(db, entry.rowId, now);
  const after = rowAsStored(db, entry.rowId);
  noteEntry(ctx, entry.rowId, cell, before, now, row ? null : after);
  journalAct(ctx, sheet.id, wordsOf(after, dimension, cell, typed), changesOfRow(row, after));
  return after;
}
