import {
  Measurement,
  type SizeRecord,
  type SizesElsewhere,
  SpecimenRow,
} from "#core/contract/records/sheet.ts";
import { labelStem, sizeBin } from "#core/measurement/size-history.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { columns } from "../columns.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { firstText, insert, type Query, sql } from "../sql.ts";
import { calibrationKey, ENTRY, keyOfRow, MEASURED_WITH, sourceKey } from "./measurement-keys.ts";

const ROW = sql`r.id, r.sheet_id AS "sheetId", r.ordinal, r.label, r.note, r.stage_x AS "stageX",
  r.stage_y AS "stageY", r.stage_square AS "stageSquare", r.struck_at AS "struckAt", r.struck_by AS "struckBy",
  r.struck_reason AS "struckReason", r.elsewhere_json AS elsewhere`;
const MEASUREMENT = sql`r.id AS "rowId", m.dimension, ${ENTRY} AS entry, m.left_typed AS "left",
  m.right_typed AS "right",
  m.direct_typed AS direct, m.repeats_json AS repeats, ms.train_id AS "trainId",
  mc.calibration_id AS "calibrationId",
  m.divisions_text AS divisions, m.size_um AS "value",
  m.size_standard_um AS "standardUncertainty", m.size_degrees_of_freedom AS "degreesOfFreedom",
  m.size_coverage_factor AS "coverageFactor", m.size_expanded_um AS "expandedUncertainty",
  m.size_shown AS "shownValue", m.size_shown_uncertainty AS "shownUncertainty", m.missing,
  m.flags_json AS flags,
  m.entered_at AS "enteredAt", ms.entered_by AS "enteredBy"`;

export const rowsFrom = (
  sheetId: string,
  from: number,
  count: number,
): Query => sql`SELECT ${ROW} FROM specimen_row r
  WHERE r.sheet_id = ${sheetId} AND r.ordinal >= ${from} AND r.undone_at IS NULL ORDER BY r.ordinal
  LIMIT ${count}`;
export const measurementsBetween = (
  sheetId: string,
  from: number,
  to: number,
): Query => sql`SELECT ${MEASUREMENT}
  FROM specimen_row r CROSS JOIN measurement m ON m.row_key = r.key ${MEASURED_WITH}
  WHERE r.sheet_id = ${sheetId} AND r.ordinal BETWEEN ${from} AND ${to} AND r.undone_at IS NULL`;
export const measurementsOfRow = (id: string): Query => sql`SELECT ${MEASUREMENT}
  FROM specimen_row r CROSS JOIN measurement m ON m.row_key = r.key ${MEASURED_WITH} WHERE r.id = ${id}`;

function measurementOf(stored: Row): Measurement {
  const { rowId: _, flags, repeats, value, standardUncertainty, degreesOfFreedom, ...rest } = stored;
  const { coverageFactor, expandedUncertainty, shownValue, shownUncertainty, ...other } = rest;
  const size =
    value === null
      ? null
      : {
          value,
          standardUncertainty,
          degreesOfFreedom,
          coverageFactor,
          expandedUncertainty,
          shownValue,
          shownUncertainty,
        };
  return Measurement.parse({
    ...other,
    repeats: JSON.parse(String(repeats)),
    size,
    flags: JSON.parse(String(flags)),
  });
}

/** A position from its columns; null: none is known. */
export function stageOf({ stageX, stageY, stageSquare }: Row): object | null {
  if (stageX === null) return null;
  return { x: stageX, y: stageY, ...(stageSquare === null ? {} : { square: stageSquare }) };
}

/** The measurements have been read by their own schema. */
const RowItself = SpecimenRow.omit({ measurements: true });

function rowOf(stored: Row, measurements: Measurement[]): SpecimenRow {
  const { struckAt, struckBy, struckReason, stageX, stageY, stageSquare, elsewhere, ...row } = stored;
  const stage = stageOf({ stageX, stageY, stageSquare });
  const struck = struckAt === null ? null : { at: struckAt, by: struckBy, reason: struckReason };
  const converted = elsewhere === null ? {} : { elsewhere: JSON.parse(String(elsewhere)) };
  return { ...RowItself.parse({ ...row, stage, struck, ...converted }), measurements };
}

/** A row of a sheet; null also for one that an undo took away. */
export function findRow(db: ReadableDb, id: string): SpecimenRow | null {
  const row = sql`SELECT ${ROW} FROM specimen_row r WHERE r.id = ${id} AND r.undone_at IS NULL`.one(db);
  return row && rowOf(row, measurementsOfRow(id).all(db, measurementOf));
}

/** A row, on its sheet or taken away by an undo. */
export function findRowEvenUndone(db: ReadableDb, id: string): SpecimenRow | null {
  const row = sql`SELECT ${ROW} FROM specimen_row r WHERE r.id = ${id}`.one(db);
  return row && rowOf(row, measurementsOfRow(id).all(db, measurementOf));
}

/** Rows by ordinal, from `from`, at most `count`. */
export function pageOfRows(db: ReadableDb, sheetId: string, from: number, count: number): SpecimenRow[] {
  const rows = rowsFrom(sheetId, from, count).all(db);
  const last = rows.at(-1);
  if (!last) return [];
  const byRow = new Map<string, Measurement[]>();
  for (const stored of measurementsBetween(sheetId, from, Number(last.ordinal)).all(db)) {
    const rowId = String(stored.rowId);
    const measurement = measurementOf(stored);
    const list = byRow.get(rowId);
    if (list) list.push(measurement);
    else byRow.set(rowId, [measurement]);
  }
  return rows.map((row) => rowOf(row, byRow.get(String(row.id)) ?? []));
}

/**
 * Adds an empty row at the end of the sheet and counts it there: no scan, however long the sheet is. A row that an undo
 * took away begins anew under its old id.
 */
export function appendRow(db: WritableDb, sheetId: string, id: string, label: string): void {
  sql`UPDATE sheet SET row_count = row_count + 1 WHERE id = ${sheetId}`.run(db);
  sql`INSERT INTO specimen_row (id, sheet_id, ordinal, label, label_stem, note)
    VALUES (${id}, ${sheetId}, (SELECT row_count FROM sheet WHERE id = ${sheetId}), ${label}, ${labelStem(label)}, '')
    ON CONFLICT (id) DO UPDATE SET ordinal = excluded.ordinal, label = excluded.label,
      label_stem = excluded.label_stem, note = '', stage_x = NULL, stage_y = NULL, stage_square = NULL,
      elsewhere_json = NULL, undone_at = NULL`.run(db);
}

export function describeRow(
  db: WritableDb,
  id: string,
  { label, note, stage }: Pick<SpecimenRow, "label" | "note" | "stage">,
): void {
  sql`UPDATE specimen_row SET label = ${label}, label_stem = ${labelStem(label)}, note = ${note},
    stage_x = ${stage?.x ?? null}, stage_y = ${stage?.y ?? null}, stage_square = ${stage?.square ?? null}
    WHERE id = ${id}`.run(db);
}

/** What of a row was converted elsewhere; absent: nothing. */
export function putElsewhere(db: WritableDb, id: string, elsewhere: SizesElsewhere | undefined): void {
  sql`UPDATE specimen_row SET elsewhere_json = ${elsewhere ? JSON.stringify(elsewhere) : null}
    WHERE id = ${id}`.run(db);
}

export function strikeRow(
  db: WritableDb,
  row: Pick<SpecimenRow, "id" | "sheetId">,
  struck: { readonly at: string; readonly by: string; readonly reason: string },
): void {
  sql`UPDATE specimen_row SET struck_at = ${struck.at}, struck_by = ${struck.by},
    struck_reason = ${struck.reason}
    WHERE id = ${row.id}`.run(db);
  sql`UPDATE sheet SET struck_count = struck_count + 1 WHERE id = ${row.sheetId}`.run(db);
}

const NO_SIZE: { readonly [K in keyof SizeRecord]: null } = {
  value: null,
  standardUncertainty: null,
  degreesOfFreedom: null,
  coverageFactor: null,
  expandedUncertainty: null,
  shownValue: null,
  shownUncertainty: null,
};

/** Writes one dimension of a row, new or changed. */
export function putMeasurement(db: WritableDb, rowId: string, measurement: Measurement): void {
  const size = measurement.size ?? NO_SIZE;
  insert(
    db,
    "measurement",
    {
      row_key: keyOfRow(rowId),
      dimension: measurement.dimension,
      is_direct: measurement.entry === "direct" ? 1 : 0,
      left_typed: measurement.left,
      right_typed: measurement.right,
      direct_typed: measurement.direct,
      repeats_json: JSON.stringify(measurement.repeats),
      source: sourceKey(db, measurement.trainId, measurement.enteredBy),
      calibration: calibrationKey(db, measurement.calibrationId),
      divisions_text: measurement.divisions,
      size_um: size.value,
      size_standard_um: size.standardUncertainty,
      size_degrees_of_freedom: size.degreesOfFreedom,
      size_coverage_factor: size.coverageFactor,
      size_expanded_um: size.expandedUncertainty,
      size_shown: size.shownValue,
      size_shown_uncertainty: size.shownUncertainty,
      size_bin: measurement.size ? sizeBin(decimal(measurement.size.value)) : null,
      missing: measurement.missing,
      flags_json: JSON.stringify(measurement.flags),
      entered_at: measurement.enteredAt,
    },
    ["row_key", "dimension"],
  );
}

/** A train and a calibration that a row was measured with; null: no calibration was in force. */
export type RowSource = ReturnType<typeof sourceOf>;
const sourceOf = columns({ trainId: "text", calibrationId: "text?" });

/** What the rows of a sheet between two ordinals were measured with, each once, in the order of their first rows. */
export function sourcesBetween(db: ReadableDb, sheetId: string, from: number, to: number): RowSource[] {
  return sql`SELECT ms.train_id AS "trainId", mc.calibration_id AS "calibrationId"
    FROM specimen_row r CROSS JOIN measurement m ON m.row_key = r.key ${MEASURED_WITH}
    WHERE r.sheet_id = ${sheetId} AND r.ordinal BETWEEN ${from} AND ${to} AND r.undone_at IS NULL
    GROUP BY ms.train_id, mc.calibration_id
    ORDER BY min(r.ordinal), ms.train_id, mc.calibration_id`.all(db, sourceOf);
}

/** Ids of the rows of a sheet that have a complete reading and are not struck, by ordinal. */
export function measuredRowIds(db: ReadableDb, sheetId: string): string[] {
  return sql`SELECT r.id FROM specimen_row r
    WHERE r.sheet_id = ${sheetId} AND r.undone_at IS NULL AND r.struck_at IS NULL AND EXISTS
      (SELECT 1 FROM measurement m WHERE m.row_key = r.key AND m.divisions_text IS NOT NULL)
    ORDER BY r.ordinal`.all(db, firstText);
}

/** Ordinals by id of those rows that are on their sheet. */
export function ordinalsOfRows(db: ReadableDb, ids: readonly string[]): Map<string, number> {
  const rows = sql`SELECT r.id, r.ordinal
    FROM json_each(${JSON.stringify(ids)}) j CROSS JOIN specimen_row r ON r.id = j.value
    WHERE r.undone_at IS NULL`.all(db);
  return new Map(rows.map((row) => [String(row.id), Number(row.ordinal)]));
}

/** The rows that undos took away, by sheet: read for all at once, for no index leads to those of one sheet. */
export function undoneRowIds(db: ReadableDb): ReadonlyMap<string, readonly string[]> {
  const rows = sql`SELECT sheet_id AS sheetId, id FROM specimen_row WHERE undone_at IS NOT NULL`.all(db);
  const ids = new Map<string, string[]>();
  for (const { sheetId, id } of rows) {
    const ofSheet = ids.get(String(sheetId));
    if (ofSheet) ofSheet.push(String(id));
    else ids.set(String(sheetId), [String(id)]);
  }
  return ids;
}

/** Those of some rows that are taken away now, and since when. */
export function undoneRows(
  db: ReadableDb,
  ids: readonly string[],
): { readonly id: string; readonly at: string }[] {
  return sql`SELECT r.id, r.undone_at AS at
    FROM json_each(${JSON.stringify(ids)}) j CROSS JOIN specimen_row r ON r.id = j.value
    WHERE r.undone_at IS NOT NULL`.all(db, ({ id, at }) => ({ id: String(id), at: String(at) }));
}

/** What a row says of itself, without its measurements. */
export type RowState = Pick<SpecimenRow, "ordinal" | "label" | "note" | "stage" | "struck" | "elsewhere">;

export function stateOfRow({ ordinal, label, note, stage, struck, elsewhere }: SpecimenRow): RowState {
  return { ordinal, label, note, stage, struck, ...(elsewhere ? { elsewhere } : {}) };
}

/** Takes a row off its sheet; it is kept, but counts nowhere. */
export function hideRow(db: WritableDb, row: SpecimenRow, at: string): void {
  sql`UPDATE specimen_row SET undone_at = ${at} WHERE id = ${row.id}`.run(db);
  sql`UPDATE sheet SET row_count = row_count - 1,
    struck_count = struck_count - ${row.struck ? 1 : 0} WHERE id = ${row.sheetId}`.run(db);
}

/** Makes a row say what it said: on its sheet, at its place, struck or not. */
export function restoreRow(db: WritableDb, id: string, state: RowState): void {
  const before = sql`SELECT sheet_id AS "sheetId", undone_at IS NULL AS "onSheet", struck_at IS NOT NULL
    AND undone_at IS NULL AS struck
    FROM specimen_row WHERE id = ${id}`.one(db);
  if (!before) throw new Error(`row ${id} is missing`);
  sql`UPDATE sheet SET row_count = row_count + ${before.onSheet === 1 ? 0 : 1},
    struck_count = struck_count + ${(state.struck ? 1 : 0) - Number(before.struck)}
    WHERE id = ${String(before.sheetId)}`.run(db);
  sql`UPDATE specimen_row SET ordinal = ${state.ordinal}, struck_at = ${state.struck?.at ?? null},
    struck_by = ${state.struck?.by ?? null}, struck_reason = ${state.struck?.reason ?? null}, undone_at = NULL
    WHERE id = ${id}`.run(db);
  describeRow(db, id, state);
  putElsewhere(db, id, state.elsewhere);
}

/** Takes a measurement away that has been kept among the superseded ones. */
export function takeMeasurementAway(db: WritableDb, rowId: string, dimension: string): void {
  sql`DELETE FROM measurement WHERE row_key = ${keyOfRow(rowId)} AND dimension = ${dimension}`.run(db);
}

/** A result on its sheet, as the flag “check before use” needs it. */
const readOf = columns({
  rowId: "text",
  sheetId: "text",
  dimension: "text",
  calibrationId: "text?",
  enteredAt: "text",
});
export type ReadSince = ReturnType<typeof readOf> & { readonly flagged: boolean };

/** Results read with a train from an instant on, in the order of their sheets and rows. */
export function readSince(db: ReadableDb, trainId: string, since: string): ReadSince[] {
  return sql`SELECT r.id AS "rowId", r.sheet_id AS "sheetId", m.dimension,
    mc.calibration_id AS "calibrationId",
      m.entered_at AS "enteredAt", m.flags_json LIKE '%"check-before-use"%' AS flagged
    FROM measurement m CROSS JOIN specimen_row r ON r.key = m.row_key ${MEASURED_WITH}
    WHERE ms.train_id = ${trainId} AND m.entered_at >= ${since} AND m.divisions_text IS NOT NULL
    AND r.undone_at IS NULL
    ORDER BY r.sheet_id, r.ordinal, m.dimension`.all(db, (row) => ({
    ...readOf(row),
    flagged: row.flagged === 1,
  }));
}
