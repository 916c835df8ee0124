import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { TrailLine } from "#core/contract/records/trail.ts";
import { eventOf, type ToldEvent } from "#core/contract/trail-events/read-event.ts";
import type { AboutReadings, ReadingsTold, RowStateTold } from "#core/contract/trail-events/sheets.ts";
import { readingsOf } from "#core/measurement/readings.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { trailOf, trailsOf } from "../../store/repositories/audit-trail.ts";
import {
  type ReevaluatedDimension,
  reevaluationsOfRows,
} from "../../store/repositories/reevaluation-repository.ts";
import { type RowState, stateOfRow } from "../../store/repositories/row-repository.ts";

export function aboutForTrail(measurement: Measurement): AboutReadings {
  const { trainId, flags, missing, enteredAt, enteredBy } = measurement;
  return { trainId, flags, missing, enteredAt, enteredBy };
}

function readingsForTrail(measurement: Measurement): ReadingsTold {
  const fromTrail: Record<string, string | null> = {};
  for (const { number, left, right, direct } of readingsOf(measurement)) {
    const repeat = number === 1 ? "" : ` ${number}`;
    if (left !== null) fromTrail[`left${repeat}`] = left;
    if (right !== null) fromTrail[`right${repeat}`] = right;
    if (direct !== null) fromTrail[`direct${repeat}`] = direct;
  }
  return { ...fromTrail, calibration: measurement.calibrationId };
}

/** How some dimensions of a row stand after an act that changed several things at once; null row: taken away. */
export function stateForTrail(row: SpecimenRow | null, dimensions: readonly string[]): RowStateTold {
  const now: Record<string, ReadingsTold | null> = {};
  const about: Record<string, AboutReadings> = {};
  for (const dimension of dimensions) {
    const measurement = row?.measurements.find((one) => one.dimension === dimension);
    now[dimension] = measurement ? readingsForTrail(measurement) : null;
    if (measurement) about[dimension] = aboutForTrail(measurement);
  }
  return { onSheet: row !== null, struck: row?.struck != null, now, about, row: row && stateOfRow(row) };
}

/** A row as its trail tells it. Of what a line did not tell, as lines of older programs, there is no key. */
export interface RowFromTrail {
  readonly readings: Record<string, ReadingsTold>;
  readonly about: Record<string, Partial<AboutReadings>>;
  row: Partial<RowState> & { readonly sheetId?: string };
  struck: boolean;
  onSheet: boolean;
  /** Of the last line that took it off its sheet or put it there. */
  movedAt: string | null;
}

type RowEvent = Extract<ToldEvent, { readonly subject: "specimen_row" }>;
type RowDetail = RowEvent["detail"];
type ReadingTold = Extract<RowDetail, { readonly edge: unknown }>;
type StateTold = Extract<RowDetail, { readonly now: unknown }>;

function takeReading(fromTrail: RowFromTrail, detail: ReadingTold, { at, by }: RowEvent): void {
  const { dimension, edge, repeat = 1, to, calibrationId = null, trainId, flags, missing, row } = detail;
  fromTrail.readings[dimension] = {
    ...fromTrail.readings[dimension],
    [repeat === 1 ? edge : `${edge} ${repeat}`]: to,
    calibration: calibrationId,
  };
  fromTrail.about[dimension] = {
    ...(trainId === undefined ? {} : { trainId }),
    ...(flags === undefined ? {} : { flags }),
    ...(missing === undefined ? {} : { missing }),
    enteredAt: at,
    ...(by === null ? {} : { enteredBy: by }),
  };
  if (row === undefined) return;
  fromTrail.row = row;
  fromTrail.onSheet = true;
}

function takeState(fromTrail: RowFromTrail, detail: StateTold, at: string): void {
  const { now, about = {}, struck = fromTrail.struck, onSheet = fromTrail.onSheet, row } = detail;
  if (onSheet !== fromTrail.onSheet) fromTrail.movedAt = at;
  fromTrail.struck = struck;
  fromTrail.onSheet = onSheet;
  for (const [dimension, readings] of Object.entries(now)) {
    delete fromTrail.about[dimension];
    if (readings === null) delete fromTrail.readings[dimension];
    else fromTrail.readings[dimension] = readings;
  }
  Object.assign(fromTrail.about, about);
  if (row) fromTrail.row = { ...fromTrail.row, ...row };
}

function take(fromTrail: RowFromTrail, event: RowEvent): void {
  const { act, detail, at, by, reason } = event;
  if ("now" in detail) takeState(fromTrail, detail, at);
  else if (act === "rows.strike") {
    fromTrail.struck = true;
    fromTrail.row = { ...fromTrail.row, struck: { at, by: by ?? "", reason: reason ?? "" } };
  } else if (act === "rows.describe") {
    const { label, note, stage } = detail;
    const described = { label: label.to, note: note.to, ...(stage ? { stage: stage.to } : {}) };
    fromTrail.row = { ...fromTrail.row, ...described };
  } else if ("edge" in detail) takeReading(fromTrail, detail, event);
}

/** What re-evaluations told before a line of the trail: their slices speak for many rows at once. */
function takeReevaluations(fromTrail: RowFromTrail, waiting: ReevaluatedDimension[], before: number): void {
  for (let next = waiting[0]; next && next.sequence < before; next = waiting[0]) {
    waiting.shift();
    const readings = fromTrail.readings[next.dimension];
    if (readings) fromTrail.readings[next.dimension] = { ...readings, calibration: next.calibrationId };
  }
}

function rowFromLines(
  lines: readonly TrailLine[],
  reevaluated: readonly ReevaluatedDimension[],
  before: number,
): RowFromTrail {
  const fromTrail: RowFromTrail = {
    readings: {},
    about: {},
    row: {},
    struck: false,
    onSheet: true,
    movedAt: null,
  };
  const waiting = [...reevaluated];
  for (const line of lines) {
    if (line.sequence >= before) break;
    takeReevaluations(fromTrail, waiting, line.sequence);
    const event = eventOf(line);
    if (event.subject === "specimen_row") take(fromTrail, event);
  }
  takeReevaluations(fromTrail, waiting, before);
  return fromTrail;
}

/** Looks up how the trail tells some rows: read together, for row by row is several times as slow. */
export function rowsFromTrail(db: ReadableDb, rowIds: readonly string[]): (rowId: string) => RowFromTrail {
  const trails = trailsOf(db, rowIds);
  const reevaluated = reevaluationsOfRows(db, rowIds);
  return (rowId) =>
    rowFromLines(trails.get(rowId) ?? [], reevaluated.get(rowId) ?? [], Number.POSITIVE_INFINITY);
}

/** A row as its trail tells it, line by line, up to the line `before`. */
export function rowFromTrail(db: ReadableDb, rowId: string, before = Number.POSITIVE_INFINITY): RowFromTrail {
  return rowFromLines(trailOf(db, rowId), reevaluationsOfRows(db, [rowId]).get(rowId) ?? [], before);
}

/** The readings of a row as they are stored, in the shape of `rowFromTrail`. */
export function storedReadings(row: Pick<SpecimenRow, "measurements">): Record<string, ReadingsTold> {
  return Object.fromEntries(row.measurements.map((one) => [one.dimension, readingsForTrail(one)]));
}
