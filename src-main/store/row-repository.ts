import { Measurement, type SizeRecord, SpecimenRow } from "#core/contract/records/sheet.ts";
import { all, one, type ReadableDb, type Row, run, type WritableDb } from "./connection.ts";

const ROW = `r.id, r.sheet_id AS "sheetId", r.ordinal, r.label, r.note, r.struck_at AS "struckAt",
  r.struck_by AS "struckBy", r.struck_reason AS "struckReason"`;
const MEASUREMENT = `m.row_id AS "rowId", m.dimension, m.left_typed AS "left", m.right_typed AS "right",
  m.train_id AS "trainId", m.calibration_id AS "calibrationId", m.divisions_text AS divisions, m.size_um AS "value",
  m.size_standard_um AS "standardUncertainty", m.size_degrees_of_freedom AS "degreesOfFreedom",
  m.size_coverage_factor AS "coverageFactor", m.size_expanded_um AS "expandedUncertainty",
  m.size_shown AS "shownValue", m.size_shown_uncertainty AS "shownUncertainty", m.missing, m.flags_json AS flags,
  m.entered_at AS "enteredAt", m.entered_by AS "enteredBy"`;

export const ROWS_FROM = `SELECT ${ROW} FROM specimen_row r
  WHERE r.sheet_id = ? AND r.ordinal >= ? ORDER BY r.ordinal LIMIT ?`;
export const MEASUREMENTS_BETWEEN = `SELECT ${MEASUREMENT}
  FROM specimen_row r CROSS JOIN measurement m ON m.row_id = r.id
  WHERE r.sheet_id = ? AND r.ordinal BETWEEN ? AND ?`;
export const MEASUREMENTS_OF_ROW = `SELECT ${MEASUREMENT} FROM measurement m WHERE m.row_id = ?`;

function measurementOf(stored: Row): Measurement {
  const { rowId: _, flags, value, standardUncertainty, degreesOfFreedom, ...rest } = stored;
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
  return Measurement.parse({ ...other, size, flags: JSON.parse(String(flags)) });
}

function rowOf(stored: Row, measurements: readonly Measurement[]): SpecimenRow {
  const { struckAt, struckBy, struckReason, ...row } = stored;
  const struck = struckAt === null ? null : { at: struckAt, by: struckBy, reason: struckReason };
  return SpecimenRow.parse({ ...row, struck, measurements });
}

export function findRow(db: ReadableDb, id: string): SpecimenRow | null {
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

/** Adds an empty row at the end of the sheet and counts it there: no scan, however long the sheet is. */
export function appendRow(db: WritableDb, sheetId: string, id: string, label: string): void {
  run(db, "UPDATE sheet SET row_count = row_count + 1 WHERE id = ?", sheetId);
  run(
    db,
    `INSERT INTO specimen_row (id, sheet_id, ordinal, label, note)
     VALUES (?, ?, (SELECT row_count FROM sheet WHERE id = ?), ?, '')`,
    id,
    sheetId,
    sheetId,
    label,
  );
}

export function describeRow(db: WritableDb, id: string, label: string, note: string): void {
  run(db, "UPDATE specimen_row SET label = ?, note = ? WHERE id = ?", label, note, id);
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
    `INSERT INTO measurement (row_id, dimension, left_typed, right_typed, train_id, calibration_id, divisions_text,
       size_um, size_standard_um, size_degrees_of_freedom, size_coverage_factor, size_expanded_um, size_shown,
       size_shown_uncertainty, missing, flags_json, entered_at, entered_by)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
     ON CONFLICT (row_id, dimension) DO UPDATE SET left_typed = excluded.left_typed,
       right_typed = excluded.right_typed, calibration_id = excluded.calibration_id,
       divisions_text = excluded.divisions_text, size_um = excluded.size_um,
       size_standard_um = excluded.size_standard_um, size_degrees_of_freedom = excluded.size_degrees_of_freedom,
       size_coverage_factor = excluded.size_coverage_factor, size_expanded_um = excluded.size_expanded_um,
       size_shown = excluded.size_shown, size_shown_uncertainty = excluded.size_shown_uncertainty,
       missing = excluded.missing, flags_json = excluded.flags_json, entered_at = excluded.entered_at,
       entered_by = excluded.entered_by`,
    rowId,
    measurement.dimension,
    measurement.left,
    measurement.right,
    measurement.trainId,
    measurement.calibrationId,
    measurement.divisions,
    size.value,
    size.standardUncertainty,
    size.degreesOfFreedom,
    size.coverageFactor,
    size.expandedUncertainty,
    size.shownValue,
    size.shownUncertainty,
    measurement.missing,
    JSON.stringify(measurement.flags),
    measurement.enteredAt,
    measurement.enteredBy,
  );
}

/** Ids of the trains that rows of a sheet were measured with. */
export function trainIdsOfSheet(db: ReadableDb, sheetId: string): string[] {
  return all(
    db,
    `SELECT DISTINCT m.train_id AS id FROM specimen_row r CROSS JOIN measurement m ON m.row_id = r.id
     WHERE r.sheet_id = ?`,
    sheetId,
  ).map((row) => String(row.id));
}
