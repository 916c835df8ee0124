import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { TrailLine } from "#core/contract/records/trail.ts";
import { readingsOf } from "#core/measurement/readings.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { trailOf, trailsOf } from "../../store/repositories/audit-trail.ts";
import {
  type ReevaluatedDimension,
  reevaluationsOfRows,
} from "../../store/repositories/reevaluation-repository.ts";
import { type RowState, stateOfRow } from "../../store/repositories/row-repository.ts";

/** The readings of one dimension and the calibration behind its size, as the trail tells them. */
type ReadingsForTrail = Readonly<Record<string, string | null>>;

/** What stands beside the readings of a dimension and cannot be recomputed from them. */
type AboutForTrail = Pick<Measurement, "trainId" | "flags" | "missing" | "enteredAt" | "enteredBy">;

/** What a line of the trail says of a row beside single readings. */
export interface StateForTrail {
  readonly onSheet: boolean;
  readonly struck: boolean;
  /** By dimension; null: nothing is measured there now. */
  readonly now: Readonly<Record<string, ReadingsForTrail | null>>;
  readonly about: Readonly<Record<string, AboutForTrail>>;
  /** The row itself; null: taken away. */
  readonly row: RowState | null;
}

export function aboutForTrail(measurement: Measurement): AboutForTrail {
  const { trainId, flags, missing, enteredAt, enteredBy } = measurement;
  return { trainId, flags, missing, enteredAt, enteredBy };
}

function readingsForTrail(measurement: Measurement): ReadingsForTrail {
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
export function stateForTrail(row: SpecimenRow | null, dimensions: readonly string[]): StateForTrail {
  const now: Record<string, ReadingsForTrail | null> = {};
  const about: Record<string, AboutForTrail> = {};
  for (const dimension of dimensions) {
    const measurement = row?.measurements.find((one) => one.dimension === dimension);
    now[dimension] = measurement ? readingsForTrail(measurement) : null;
    if (measurement) about[dimension] = aboutForTrail(measurement);
  }
  return { onSheet: row !== null, struck: row?.struck != null, now, about, row: row && stateOfRow(row) };
}

type Changed = { readonly to: unknown } | undefined;

interface ReadingDetail {
  readonly dimension?: string;
  readonly edge?: string;
  readonly repeat?: number;
  readonly to?: string;
  readonly trainId?: string;
  readonly calibrationId?: string | null;
  readonly flags?: Measurement["flags"];
  readonly missing?: string | null;
  /** On the first reading of a row. */
  readonly row?: Partial<RowState> & { readonly sheetId: string };
}

type RowDetail = ReadingDetail &
  Partial<Omit<StateForTrail, "row">> & {
    readonly label?: Changed;
    readonly note?: Changed;
    readonly stage?: Changed;
  };

/** A row as its trail tells it. Of what a line did not tell, as lines of older programs, there is no key. */
export interface RowFromTrail {
  readonly readings: Record<string, ReadingsForTrail>;
  readonly about: Record<string, Partial<AboutForTrail>>;
  row: Partial<RowState> & { readonly sheetId?: string };
  struck: boolean;
  onSheet: boolean;
  /** Of the last line that took it off its sheet or put it there. */
  movedAt: string | null;
}

function takeReading(fromTrail: RowFromTrail, detail: ReadingDetail, line: TrailLine): void {
  const { dimension, edge, repeat, to, calibrationId, trainId, flags, missing, row } = detail;
  if (dimension === undefined) return;
  const place = (repeat ?? 1) === 1 ? `${edge}` : `${edge} ${repeat}`;
  fromTrail.readings[dimension] = {
    ...fromTrail.readings[dimension],
    [place]: to ?? null,
    calibration: calibrationId ?? null,
  };
  fromTrail.about[dimension] = {
    ...(trainId === undefined ? {} : { trainId }),
    ...(flags === undefined ? {} : { flags }),
    ...(missing === undefined ? {} : { missing }),
    enteredAt: line.at,
    ...(line.personId === null ? {} : { enteredBy: line.personId }),
  };
  if (row === undefined) return;
  fromTrail.row = row;
  fromTrail.onSheet = true;
}

function takeState(
  fromTrail: RowFromTrail,
  detail: RowDetail & { readonly row?: unknown },
  at: string,
): void {
  const { now = {}, about = {}, struck = fromTrail.struck, onSheet = fromTrail.onSheet, row } = detail;
  if (onSheet !== fromTrail.onSheet) fromTrail.movedAt = at;
  fromTrail.struck = struck;
  fromTrail.onSheet = onSheet;
  for (const [dimension, readings] of Object.entries(now)) {
    delete fromTrail.about[dimension];
    if (readings === null) delete fromTrail.readings[dimension];
    else fromTrail.readings[dimension] = readings;
  }
  Object.assign(fromTrail.about, about);
  if (row) fromTrail.row = { ...fromTrail.row, ...(row as RowState) };
}

function takeDescription(fromTrail: RowFromTrail, { label, note, stage }: RowDetail): void {
  fromTrail.row = {
    ...fromTrail.row,
    ...(label ? { label: label.to as string } : {}),
    ...(note ? { note: note.to as string } : {}),
    ...(stage ? { stage: stage.to as RowState["stage"] } : {}),
  };
}

function takeStrike(fromTrail: RowFromTrail, { at, personId, reason }: TrailLine): void {
  fromTrail.struck = true;
  fromTrail.row = { ...fromTrail.row, struck: { at, by: personId ?? "", reason: reason ?? "" } };
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
    const detail: RowDetail = JSON.parse(line.detail);
    if (detail.now) takeState(fromTrail, detail, line.at);
    else if (line.act === "rows.strike") takeStrike(fromTrail, line);
    else if (line.act === "rows.describe") takeDescription(fromTrail, detail);
    else if (line.act === "rows.enter" || line.act === "rows.amend") takeReading(fromTrail, detail, line);
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
export function storedReadings(row: Pick<SpecimenRow, "measurements">): Record<string, ReadingsForTrail> {
  return Object.fromEntries(row.measurements.map((one) => [one.dimension, readingsForTrail(one)]));
}
