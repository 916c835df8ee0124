import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import { readingsOf } from "#core/measurement/readings.ts";
import { trailOf } from "../store/audit-trail.ts";
import type { ReadableDb } from "../store/connection.ts";
import { type ReevaluatedDimension, reevaluationsOfRow } from "../store/reevaluation-repository.ts";

/** The readings of one dimension and the calibration behind its size, as the trail tells them. */
type ToldDimension = Readonly<Record<string, string | null>>;

/** What a line of the trail says of a row beside single readings. */
export interface ToldState {
  readonly onSheet: boolean;
  readonly struck: boolean;
  /** By dimension; null: nothing is measured there now. */
  readonly now: Readonly<Record<string, ToldDimension | null>>;
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
  for (const dimension of dimensions) {
    const measurement = row?.measurements.find((one) => one.dimension === dimension);
    now[dimension] = measurement ? toldOf(measurement) : null;
  }
  return { onSheet: row !== null, struck: row?.struck != null, now };
}

interface ToldReading {
  readonly dimension?: string;
  readonly edge?: string;
  readonly repeat?: number;
  readonly to?: string;
  readonly calibrationId?: string | null;
}

interface Told {
  readonly readings: Record<string, ToldDimension>;
  struck: boolean;
}

function takeReading(told: Told, { dimension, edge, repeat, to, calibrationId }: ToldReading): void {
  if (dimension === undefined) return;
  const place = (repeat ?? 1) === 1 ? `${edge}` : `${edge} ${repeat}`;
  told.readings[dimension] = {
    ...told.readings[dimension],
    [place]: to ?? null,
    calibration: calibrationId ?? null,
  };
}

function takeState(told: Told, state: Pick<ToldState, "now" | "struck">): void {
  told.struck = state.struck;
  for (const [dimension, now] of Object.entries(state.now)) {
    if (now === null) delete told.readings[dimension];
    else told.readings[dimension] = now;
  }
}

/** What re-evaluations told before a line of the trail: their slices speak for many rows at once. */
function takeReevaluations(told: Told, waiting: ReevaluatedDimension[], before: number): void {
  for (let next = waiting[0]; next && next.sequence < before; next = waiting[0]) {
    waiting.shift();
    const readings = told.readings[next.dimension];
    if (readings) told.readings[next.dimension] = { ...readings, calibration: next.calibrationId };
  }
}

/** The readings of a row as its trail tells them, line by line, and whether it says the row is struck. */
export function toldOfRow(db: ReadableDb, rowId: string): Told {
  const told: Told = { readings: {}, struck: false };
  const reevaluated = reevaluationsOfRow(db, rowId);
  for (const line of trailOf(db, rowId)) {
    takeReevaluations(told, reevaluated, line.sequence);
    const detail: ToldReading & Partial<ToldState> = JSON.parse(line.detail);
    if (detail.now) takeState(told, { now: detail.now, struck: detail.struck ?? told.struck });
    else if (line.act === "rows.strike") told.struck = true;
    else if (line.act === "rows.enter" || line.act === "rows.amend") takeReading(told, detail);
  }
  takeReevaluations(told, reevaluated, Number.POSITIVE_INFINITY);
  return told;
}

/** The readings of a row as they are stored, in the shape of `toldOfRow`. */
export function storedReadings(row: SpecimenRow): Record<string, ToldDimension> {
  return Object.fromEntries(row.measurements.map((one) => [one.dimension, toldOf(one)]));
}
