import { Measurement, type SizeRecord, SpecimenRow } from "#core/contract/records/sheet.ts";
import { labelStem, sizeBin } from "#core/measurement/size-history.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { all, one, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";
import { calibrationKey, ENTRY, keyOfRow, MEASURED_WITH, sourceKey } from "./measurement-keys.ts";

const ROW = `r.id, r.sheet_id AS "sheetId", r.ordinal, r.label, r.note, r.stage_x AS "stageX",
  r.stage_y AS "stageY", r.struck_at AS "struckAt", r.struck_by AS "struckBy", r.struck_reason AS "struckReason"`;
const MEASUREMENT = `r.id AS "rowId", m.dimension, ${ENTRY} AS entry, m.left_typed AS "left", m.right_typed AS "right",
  m.direct_typed AS direct, m.repeats_json AS repeats, ms.train_id AS "trainId", mc.calibration_id AS "calibrationId",
  m.divisions_text AS divisions, m.size_um AS "value",
  m.size_standard_um AS "standardUncertainty", m.size_degrees_of_freedom AS "degreesOfFreedom",
  m.size_coverage_factor AS "coverageFactor", m.size_expanded_um AS "expandedUncertainty",
  m.size_shown AS "shownValue", m.size_shown_uncertainty AS "shownUncertainty", m.missing, m.flags_json AS flags,
  m.entered_at AS "enteredAt", ms.entered_by AS "enteredBy"`;

export const ROWS_FROM = `SELECT ${ROW} FROM specimen_row r
  WHERE r.sheet_id = ? AND r.ordinal >= ? AND r.undone_at IS NULL ORDER BY r.ordinal LIMIT ?`;
export const MEASUREMENTS_BETWEEN = `SELECT ${MEASUREMENT}
  FROM specimen_row r CROSS JOIN measurement m ON m.row_key = r.key ${MEASURED_WITH}
  WHERE r.sheet_id = ? AND r.ordinal BETWEEN ? AND ? AND r.undone_at IS NULL`;
export const MEASUREMENTS_OF_ROW = `SELECT ${MEASUREMENT}
  FROM specimen_row r CROSS JOIN measurement m ON m.row_key = r.key ${MEASURED_WITH} WHERE r.id = ?`;

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

/** The measurements have been read by their own schema. */
const RowItself = SpecimenRow.omit({ measurements: true });

function rowOf(stored: Row, measurements: Measurement[]): SpecimenRow {
  const { struckAt, struckBy, struckReason, stageX, stageY, ...row } = stored;
  const stage = stageX === null ? null : { x: stageX, y: stageY };
  const struck = struckAt === null ? null : { at: struckAt, by: struckBy, reason: struckReason };
  return { ...RowItself.parse({ ...row, stage, struck }), measurements };
}

/** A row of a sheet; null also for one that an undo took away. */
export function findRow(db: ReadableDb, id: string): SpecimenRow | null {
  const row = one(db, `SELECT ${ROW} FROM specimen_row r WHERE r.id = ? AND r.undone_at IS NULL`, id);
  return row ? rowOf(row, all(db, MEASUREMENTS_OF_ROW, id).map(measurementOf)) : null;
}

/** A row, on its sheet or taken away by an undo. */
export function findRowEvenUndone(db: ReadableDb, id: string): SpecimenRow | null {
  const row = one(db, `SELECT ${ROW} FROM specimen_row r WHERE r.id = ?`, id);
  return row ? rowOf(row, all(db, MEASUREMENTS_OF_ROW, id).map(measurementOf)) : null;
}

/** Rows by ordinal, from `from`, at most `count`. */
export function pageOfRows(db: ReadableDb, sheetId: string, from: number, count: number): SpecimenRow[] {
  const rows = all(db, ROWS_FROM, sheetId, from, count);
  const last = rows.at(-1);
  if (!last) return [];
  const byRow = new Map<string, Measurement[]>();
  for (const stored of all(db, MEASUREMENTS_BETWEEN, sheetId, from, Number(last.ordinal))) {
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
  run(db, "UPDATE sheet SET row_count = row_count + 1 WHERE id = ?", sheetId);
  run(
    db,
    `INSERT INTO specimen_row (id, sheet_id, ordinal, label, label_stem, note)
     VALUES (?, ?, (SELECT row_count FROM sheet WHERE id = ?), ?, ?, '')
     ON CONFLICT (id) DO UPDATE SET ordinal = excluded.ordinal, label = excluded.label,
       label_stem = excluded.label_stem, note = '', stage_x = NULL, stage_y = NULL, undone_at = NULL`,
    id,
    sheetId,
    sheetId,
    label,
    labelStem(label),
  );
}

export function describeRow(
  db: WritableDb,
  id: string,
  { label, note, stage }: Pick<SpecimenRow, "label" | "note" | "stage">,
): void {
  run(
    db,
    "UPDATE specimen_row SET label = ?, label_stem = ?, note = ?, stage_x = ?, stage_y = ? WHERE id = ?",
    label,
    labelStem(label),
    note,
    stage?.x ?? null,
    stage?.y ?? null,
    id,
  );
}

export function strikeRow(
  db: WritableDb,
  row: Pick<SpecimenRow, "id" | "sheetId">,
  struck: { readonly at: string; readonly by: string; readonly reason: string },
): void {
  run(
    db,
    "UPDATE specimen_row SET struck_at = ?, struck_by = ?, struck_reason = ? WHERE id = ?",
    struck.at,
    struck.by,
    struck.reason,
    row.id,
  );
  run(db, "UPDATE sheet SET struck_count = struck_count + 1 WHERE id = ?", row.sheetId);
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
  run(
    db,
    `INSERT INTO measurement (row_key, dimension, is_direct, left_typed, right_typed, direct_typed, repeats_json, source,
       calibration, divisions_text,
       size_um, size_standard_um, size_degrees_of_freedom, size_coverage_factor, size_expanded_um, size_shown,
       size_shown_uncertainty, size_bin, missing, flags_json, entered_at)
     VALUES (${keyOfRow()}, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
     ON CONFLICT (row_key, dimension) DO UPDATE SET is_direct = excluded.is_direct, left_typed = excluded.left_typed,
       right_typed = excluded.right_typed, direct_typed = excluded.direct_typed, repeats_json = excluded.repeats_json,
       source = excluded.source, size_bin = excluded.size_bin, calibration = excluded.calibration,
       divisions_text = excluded.divisions_text, size_um = excluded.size_um,
       size_standard_um = excluded.size_standard_um, size_degrees_of_freedom = excluded.size_degrees_of_freedom,
       size_coverage_factor = excluded.size_coverage_factor, size_expanded_um = excluded.size_expanded_um,
       size_shown = excluded.size_shown, size_shown_uncertainty = excluded.size_shown_uncertainty,
       missing = excluded.missing, flags_json = excluded.flags_json, entered_at = excluded.entered_at`,
    rowId,
    measurement.dimension,
    measurement.entry === "direct" ? 1 : 0,
    measurement.left,
    measurement.right,
    measurement.direct,
    JSON.stringify(measurement.repeats),
    sourceKey(db, measurement.trainId, measurement.enteredBy),
    calibrationKey(db, measurement.calibrationId),
    measurement.divisions,
    size.value,
    size.standardUncertainty,
    size.degreesOfFreedom,
    size.coverageFactor,
    size.expandedUncertainty,
    size.shownValue,
    size.shownUncertainty,
    measurement.size ? sizeBin(decimal(measurement.size.value)) : null,
    measurement.missing,
    JSON.stringify(measurement.flags),
    measurement.enteredAt,
  );
}

/** A train and a calibration that a row was measured with; null: no calibration was in force. */
export interface RowSource {
  readonly trainId: string;
  readonly calibrationId: string | null;
}

/** What the rows of a sheet between two ordinals were measured with, each once, in the order of their first rows. */
export function sourcesBetween(db: ReadableDb, sheetId: string, from: number, to: number): RowSource[] {
  return all(
    db,
    `SELECT ms.train_id AS "trainId", mc.calibration_id AS "calibrationId"
     FROM specimen_row r CROSS JOIN measurement m ON m.row_key = r.key ${MEASURED_WITH}
     WHERE r.sheet_id = ? AND r.ordinal BETWEEN ? AND ? AND r.undone_at IS NULL
     GROUP BY ms.train_id, mc.calibration_id ORDER BY min(r.ordinal), ms.train_id, mc.calibration_id`,
    sheetId,
    from,
    to,
  ) as unknown as RowSource[];
}

/** Ids of the rows of a sheet that have a complete reading and are not struck, by ordinal. */
export function measuredRowIds(db: ReadableDb, sheetId: string): string[] {
  return all(
    db,
    `SELECT r.id FROM specimen_row r
     WHERE r.sheet_id = ? AND r.undone_at IS NULL AND r.struck_at IS NULL AND EXISTS
       (SELECT 1 FROM measurement m WHERE m.row_key = r.key AND m.divisions_text IS NOT NULL)
     ORDER BY r.ordinal`,
    sheetId,
  ).map((row) => String(row.id));
}

/** Ordinals by id of those rows that are on their sheet. */
export function ordinalsOfRows(db: ReadableDb, ids: readonly string[]): Map<string, number> {
  const rows = all(
    db,
    `SELECT r.id, r.ordinal FROM json_each(?) j CROSS JOIN specimen_row r ON r.id = j.value
     WHERE r.undone_at IS NULL`,
    JSON.stringify(ids),
  );
  return new Map(rows.map((row) => [String(row.id), Number(row.ordinal)]));
}

/** The rows that undos took away, by sheet: read for all at once, for no index leads to those of one sheet. */
export function undoneRowIds(db: ReadableDb): ReadonlyMap<string, readonly string[]> {
  const rows = all(db, "SELECT sheet_id AS sheetId, id FROM specimen_row WHERE undone_at IS NOT NULL");
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
  return all(
    db,
    `SELECT r.id, r.undone_at AS at FROM json_each(?) j CROSS JOIN specimen_row r ON r.id = j.value
     WHERE r.undone_at IS NOT NULL`,
    JSON.stringify(ids),
  ).map(({ id, at }) => ({ id: String(id), at: String(at) }));
}

/** What a row says of itself, without its measurements. */
export type RowState = Pick<SpecimenRow, "ordinal" | "label" | "note" | "stage" | "struck">;

export function stateOfRow({ ordinal, label, note, stage, struck }: SpecimenRow): RowState {
  return { ordinal, label, note, stage, struck };
}

/** Takes a row off its sheet; it is kept, but counts nowhere. */
export function hideRow(db: WritableDb, row: SpecimenRow, at: string): void {
  run(db, "UPDATE specimen_row SET undone_at = ? WHERE id = ?", at, row.id);
  run(
    db,
    "UPDATE sheet SET row_count = row_count - 1, struck_count = struck_count - ? WHERE id = ?",
    row.struck ? 1 : 0,
    row.sheetId,
  );
}

/** Makes a row say what it said: on its sheet, at its place, struck or not. */
export function restoreRow(db: WritableDb, id: string, state: RowState): void {
  const before = one(
    db,
    `SELECT sheet_id AS "sheetId", undone_at IS NULL AS "onSheet", struck_at IS NOT NULL AND undone_at IS NULL AS struck
     FROM specimen_row WHERE id = ?`,
    id,
  );
  if (!before) throw new Error(`row ${id} is missing`);
  run(
    db,
    "UPDATE sheet SET row_count = row_count + ?, struck_count = struck_count + ? WHERE id = ?",
    before.onSheet === 1 ? 0 : 1,
    (state.struck ? 1 : 0) - Number(before.struck),
    String(before.sheetId),
  );
  run(
    db,
    `UPDATE specimen_row SET ordinal = ?, struck_at = ?, struck_by = ?, struck_reason = ?, undone_at = NULL
     WHERE id = ?`,
    state.ordinal,
    state.struck?.at ?? null,
    state.struck?.by ?? null,
    state.struck?.reason ?? null,
    id,
  );
  describeRow(db, id, state);
}

/** Takes a measurement away that has been kept among the superseded ones. */
export function takeMeasurementAway(db: WritableDb, rowId: string, dimension: string): void {
  run(db, `DELETE FROM measurement WHERE row_key = ${keyOfRow()} AND dimension = ?`, rowId, dimension);
}

/** A result on its sheet, as the flag “check before use” needs it. */
export interface ReadSince {
  readonly rowId: string;
  readonly sheetId: string;
  readonly dimension: string;
  readonly calibrationId: string | null;
  readonly enteredAt: string;
  readonly flagged: boolean;
}

/** Results read with a train from an instant on, in the order of their sheets and rows. */
export function readSince(db: ReadableDb, trainId: string, since: string): ReadSince[] {
  return all(
    db,
    `SELECT r.id AS "rowId", r.sheet_id AS "sheetId", m.dimension, mc.calibration_id AS "calibrationId",
       m.entered_at AS "enteredAt", m.flags_json LIKE '%"check-before-use"%' AS flagged
     FROM measurement m CROSS JOIN specimen_row r ON r.key = m.row_key ${MEASURED_WITH}
     WHERE ms.train_id = ? AND m.entered_at >= ? AND m.divisions_text IS NOT NULL AND r.undone_at IS NULL
     ORDER BY r.sheet_id, r.ordinal, m.dimension`,
    trainId,
    since,
  ).map((row) => ({ ...row, flagged: row.flagged === 1 }) as unknown as ReadSince);
}
