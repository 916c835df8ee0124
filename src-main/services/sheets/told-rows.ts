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
type ToldDimension = Readonly<Record<string, string | null>>;

/** What stands beside the readings of a dimension and cannot be recomputed from them. */
type ToldAbout = Pick<Measurement, "trainId" | "flags" | "missing" | "enteredAt" | "enteredBy">;

/** What a line of the trail says of a row beside single readings. */
export interface ToldState {
  readonly onSheet: boolean;
  readonly struck: boolean;
  /** By dimension; null: nothing is measured there now. */
  readonly now: Readonly<Record<string, ToldDimension | null>>;
  readonly about: Readonly<Record<string, ToldAbout>>;
  /** The row itself; null: taken away. */
  readonly row: RowState | null;
}

export function toldAbout(measurement: Measurement): ToldAbout {
  const { trainId, flags, missing, enteredAt, enteredBy } = measurement;
  return { trainId, flags, missing, enteredAt, enteredBy };
}

function toldOf(measurement: Measurement): ToldDimension {
  const told: Record<string, string | null> = {};
  for (const { number, left, right, direct } of readingsOf(measurement)) {
    const repeat = number === 1 ? "" : ` ${number}`;
    if (left !== null) told[`left${repeat}`] = left;
    if (right !== null) told[`right${repeat}`] = right;
    if (direct !== null) told[`direct${repeat}`] = direct;
  }
  return { ...told, calibration: measurement.calibrationId };
}

/** How some dimensions of a row stand after an act that changed several things at once; null row: taken away. */
export function toldState(row: SpecimenRow | null, dimensions: readonly string[]): ToldState {
  const now: Record<string, ToldDimension | null> = {};
  const about: Record<string, ToldAbout> = {};
  for (const dimension of dimensions) {
    const measurement = row?.measurements.find((one) => one.dimension === dimension);
    now[dimension] = measurement ? toldOf(measurement) : null;
    if (measurement) about[dimension] = toldAbout(measurement);
  }
  return { onSheet: row !== null, struck: row?.struck != null, now, about, row: row && stateOfRow(row) };
}

type Changed = { readonly to: unknown } | undefined;

interface ToldReading {
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

type ToldLine = ToldReading &
  Partial<Omit<ToldState, "row">> & {
    readonly label?: Changed;
    readonly note?: Changed;
    readonly stage?: Changed;
  };

/** A row as its trail tells it. Of what a line did not tell, as lines of older programs, there is no key. */
export interface Told {
  readonly readings: Record<string, ToldDimension>;
  readonly about: Record<string, Partial<ToldAbout>>;
  row: Partial<RowState> & { readonly sheetId?: string };
  struck: boolean;
  onSheet: boolean;
  /** Of the last line that took it off its sheet or put it there. */
  movedAt: string | null;
}

function takeReading(told: Told, detail: ToldReading, line: TrailLine): void {
  const { dimension, edge, repeat, to, calibrationId, trainId, flags, missing, row } = detail;
  if (dimension === undefined) return;
  const place = (repeat ?? 1) === 1 ? `${edge}` : `${edge} ${repeat}`;
  told.readings[dimension] = {
    ...told.readings[dimension],
    [place]: to ?? null,
    calibration: calibrationId ?? null,
  };
  told.about[dimension] = {
    ...(trainId === undefined ? {} : { trainId }),
    ...(flags === undefined ? {} : { flags }),
    ...(missing === undefined ? {} : { missing }),
    enteredAt: line.at,
    ...(line.personId === null ? {} : { enteredBy: line.personId }),
  };
  if (row === undefined) return;
  told.row = row;
  told.onSheet = true;
}

function takeState(told: Told, detail: ToldLine & { readonly row?: unknown }, at: string): void {
  const { now = {}, about = {}, struck = told.struck, onSheet = told.onSheet, row } = detail;
  if (onSheet !== told.onSheet) told.movedAt = at;
  told.struck = struck;
  told.onSheet = onSheet;
  for (const [dimension, readings] of Object.entries(now)) {
    delete told.about[dimension];
    if (readings === null) delete told.readings[dimension];
    else told.readings[dimension] = readings;
  }
  Object.assign(told.about, about);
  if (row) told.row = { ...told.row, ...(row as RowState) };
}

function takeDescription(told: Told, { label, note, stage }: ToldLine): void {
  told.row = {
    ...told.row,
    ...(label ? { label: label.to as string } : {}),
    ...(note ? { note: note.to as string } : {}),
    ...(stage ? { stage: stage.to as RowState["stage"] } : {}),
  };
}

function takeStrike(told: Told, { at, personId, reason }: TrailLine): void {
  told.struck = true;
  told.row = { ...told.row, struck: { at, by: personId ?? "", reason: reason ?? "" } };
}

/** What re-evaluations told before a line of the trail: their slices speak for many rows at once. */
function takeReevaluations(told: Told, waiting: ReevaluatedDimension[], before: number): void {
  for (let next = waiting[0]; next && next.sequence < before; next = waiting[0]) {
    waiting.shift();
    const readings = told.readings[next.dimension];
    if (readings) told.readings[next.dimension] = { ...readings, calibration: next.calibrationId };
  }
}

function toldBy(
  lines: readonly TrailLine[],
  reevaluated: readonly ReevaluatedDimension[],
  before: number,
): Told {
  const told: Told = { readings: {}, about: {}, row: {}, struck: false, onSheet: true, movedAt: null };
  const waiting = [...reevaluated];
  for (const line of lines) {
    if (line.sequence >= before) break;
    takeReevaluations(told, waiting, line.sequence);
    const detail: ToldLine = JSON.parse(line.detail);
    if (detail.now) takeState(told, detail, line.at);
    else if (line.act === "rows.strike") takeStrike(told, line);
    else if (line.act === "rows.describe") takeDescription(told, detail);
    else if (line.act === "rows.enter" || line.act === "rows.amend") takeReading(told, detail, line);
  }
  takeReevaluations(told, waiting, before);
  return told;
}

/** Looks up how the trail tells some rows: read together, for row by row is several times as slow. */
export function toldOfRows(db: ReadableDb, rowIds: readonly string[]): (rowId: string) => Told {
  const trails = trailsOf(db, rowIds);
  const reevaluated = reevaluationsOfRows(db, rowIds);
  return (rowId) => toldBy(trails.get(rowId) ?? [], reevaluated.get(rowId) ?? [], Number.POSITIVE_INFINITY);
}

/** A row as its trail tells it, line by line, up to the line `before`. */
export function toldOfRow(db: ReadableDb, rowId: string, before = Number.POSITIVE_INFINITY): Told {
  return toldBy(trailOf(db, rowId), reevaluationsOfRows(db, [rowId]).get(rowId) ?? [], before);
}

/** The readings of a row as they are stored, in the shape of `toldOfRow`. */
export function storedReadings(row: Pick<SpecimenRow, "measurements">): Record<string, ToldDimension> {
  return Object.fromEntries(row.measurements.map((one) => [one.dimension, toldOf(one)]));
}
