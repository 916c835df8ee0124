import type { EstimatedEdge } from "#core/measurement/own-digits.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { ReadableDb, Row } from "../connection.ts";
import { firstText, sql } from "../sql.ts";

/** Habits change, and a page is to open at once: only the newest work speaks. */
const SHEETS = 100;
const ROWS_OF_A_SHEET = 2000;
const READINGS = 1000;
const RECORDS = 50;

/** Objects of one sheet or second reading with one name, one dimension and one train belong together. */
function grouped(rows: readonly Row[], within: string, groups: Map<string, EstimatedEdge[]>): void {
  for (const { stem, dimension, source, typed, divisions } of rows) {
    const key = JSON.stringify([within, stem, dimension, source]);
    const group = groups.get(key) ?? [];
    group.push({ typed: String(typed), divisions: decimal(String(divisions)) });
    groups.set(key, group);
  }
}

/** The newest readings of a person on sheets, in groups of objects of one kind; struck rows left out. */
export function readingsOnSheets(db: ReadableDb, personId: string): EstimatedEdge[][] {
  const groups = new Map<string, EstimatedEdge[]>();
  let found = 0;
  for (const { id } of sql`SELECT id FROM sheet ORDER BY ordinal DESC LIMIT ${SHEETS}`.all(db)) {
    const rows = sql`SELECT r.label_stem AS stem, m.dimension, m.source,
      coalesce(m.direct_typed, m.right_typed) AS typed,
        m.divisions_text AS divisions
      FROM (SELECT key, label_stem FROM specimen_row
      WHERE sheet_id = ${String(id)} AND undone_at IS NULL AND struck_at IS NULL
        ORDER BY ordinal DESC LIMIT ${ROWS_OF_A_SHEET}) r
      CROSS JOIN measurement m ON m.row_key = r.key CROSS JOIN measurement_source ms ON ms.id = m.source
      WHERE ms.entered_by = ${personId} AND m.divisions_text IS NOT NULL
      AND coalesce(m.direct_typed, m.right_typed) IS NOT NULL`.all(db);
    grouped(rows, String(id), groups);
    found += rows.length;
    if (found >= READINGS) break;
  }
  return [...groups.values()];
}

/** The same of the newest second readings. */
export function readingsOfSecondReadings(db: ReadableDb, personId: string): EstimatedEdge[][] {
  const groups = new Map<string, EstimatedEdge[]>();
  const newest = sql`SELECT id FROM second_reading
    WHERE reader = ${personId} ORDER BY started_at DESC, rowid DESC LIMIT ${RECORDS}`.all(db);
  for (const { id } of newest) {
    grouped(
      sql`SELECT r.label_stem AS stem, m.dimension, m.measurement_json ->> '$.trainId' AS source,
          coalesce(m.measurement_json ->> '$.direct', m.measurement_json ->> '$.right') AS typed,
          m.measurement_json ->> '$.divisions' AS divisions
        FROM second_reading_measurement m CROSS JOIN specimen_row r ON r.id = m.row_id
        WHERE m.second_reading_id = ${String(id)} AND m.measurement_json ->> '$.enteredBy' = ${personId}
          AND m.measurement_json ->> '$.divisions' IS NOT NULL
          AND coalesce(m.measurement_json ->> '$.direct', m.measurement_json ->> '$.right') IS NOT NULL`.all(
        db,
      ),
      String(id),
      groups,
    );
  }
  return [...groups.values()];
}

/** Right ends of the settings of a person's newest calibrations with a result. */
export function readingsOfCalibrations(db: ReadableDb, personId: string): string[] {
  return sql`SELECT s.value ->> '$.reticleRight' AS typed FROM (SELECT settings_json FROM calibration
      WHERE person_id = ${personId} AND result_json IS NOT NULL ORDER BY started_at DESC, rowid DESC
      LIMIT ${RECORDS}) c,
    json_each(c.settings_json) s`.all(db, firstText);
}

/** Right ends of the settings of a person's newest checks. */
export function readingsOfChecks(db: ReadableDb, personId: string): string[] {
  return sql`SELECT s.value ->> '$.reticleRight' AS typed FROM (SELECT settings_json FROM calibration_check
    WHERE checked_by = ${personId} ORDER BY checked_at DESC, rowid DESC
    LIMIT ${RECORDS}) c, json_each(c.settings_json) s`.all(db, firstText);
}

/** Right ends of the real material that a person read in classes. */
export function readingsOfClassMaterial(db: ReadableDb, personId: string): string[] {
  return sql`SELECT right_typed AS typed FROM practice_slide_reading
    WHERE person_id = ${personId} ORDER BY at DESC LIMIT ${READINGS}`.all(db, firstText);
}

/** A closed second reading with the people who took the first readings of its rows. */
export interface ClosedSecondReading {
  readonly id: string;
  readonly sheetId: string;
  readonly reader: string;
  readonly firstReaders: readonly string[];
}

/** The newest closed second readings of the bench, newest first. */
export function closedSecondReadings(db: ReadableDb): ClosedSecondReading[] {
  return sql`SELECT s.id, s.sheet_id AS "sheetId", s.reader,
      (SELECT json_group_array(DISTINCT ms.entered_by) FROM second_reading_row o
       CROSS JOIN specimen_row r ON r.id = o.row_id CROSS JOIN measurement m ON m.row_key = r.key
       CROSS JOIN measurement_source ms ON ms.id = m.source
       WHERE o.second_reading_id = s.id AND m.divisions_text IS NOT NULL) AS first
    FROM second_reading s WHERE s.closed_at IS NOT NULL ORDER BY s.closed_at DESC, s.rowid DESC
    LIMIT ${RECORDS}`
    .all(db)
    .map(({ id, sheetId, reader, first }) => ({
      id: String(id),
      sheetId: String(sheetId),
      reader: String(reader),
      firstReaders: (JSON.parse(String(first)) as unknown[]).map(String),
    }));
}
