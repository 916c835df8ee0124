import { type Measurement, SupersededMeasurement } from "#core/contract/records/sheet.ts";
import { ReplacedResult } from "#core/contract/records/sheet-document.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { firstText, insert, sql } from "../sql.ts";

/** Why and by whose act a result was replaced. */
export interface SupersededBy {
  readonly at: string;
  readonly by: string;
  readonly act: string;
  readonly reason: string | null;
}

/** Keeps a result, whole, that is about to be replaced or taken away. */
export function archiveResult(
  db: WritableDb,
  rowId: string,
  measurement: Measurement,
  { at, by, act, reason }: SupersededBy,
): void {
  insert(db, "superseded_measurement", {
    row_id: rowId,
    dimension: measurement.dimension,
    calibration_id: measurement.calibrationId,
    size_um: measurement.size?.value ?? null,
    measurement_json: JSON.stringify(measurement),
    at,
    by,
    act,
    reason,
  });
}

/** Oldest first. */
export function supersededOfRow(db: ReadableDb, rowId: string): SupersededMeasurement[] {
  return sql`SELECT measurement_json AS measurement, at, by, act, reason FROM superseded_measurement
    WHERE row_id = ${rowId} ORDER BY id`
    .all(db)
    .map(({ measurement, ...row }) =>
      SupersededMeasurement.parse({ ...row, measurement: JSON.parse(String(measurement)) }),
    );
}

/** Results replaced by any act but one, by id, above `after`, with who replaced them, when, by which act and why. */
export function supersededPage(
  db: ReadableDb,
  butBy: string,
  after: number,
  count: number,
): ({ readonly id: number; readonly rowId: string } & SupersededMeasurement)[] {
  return sql`SELECT id, row_id AS "rowId", measurement_json AS measurement, at, by, act, reason
    FROM superseded_measurement WHERE id > ${after} AND act <> ${butBy} ORDER BY id LIMIT ${count}`
    .all(db)
    .map(({ id, rowId, measurement, ...row }) => ({
      id: Number(id),
      rowId: String(rowId),
      ...SupersededMeasurement.parse({ ...row, measurement: JSON.parse(String(measurement)) }),
    }));
}

/** How many results one act replaced, of those between two ids. */
export function countSupersededBy(
  db: ReadableDb,
  act: string,
  { first, last }: { readonly first: number; readonly last: number },
): number {
  const row = sql`SELECT count(*) AS n FROM superseded_measurement
    WHERE act = ${act} AND id BETWEEN ${first} AND ${last}`.one(db);
  return Number(row?.n);
}

export function countSuperseded(db: ReadableDb): number {
  return sql`SELECT count(*) AS n FROM superseded_measurement`.number(db);
}

export interface SupersededToVerify {
  readonly id: number;
  readonly rowId: string;
  /** What its columns say, and what the record itself says. */
  readonly columns: Readonly<Record<string, unknown>>;
  readonly record: Readonly<Record<string, unknown>>;
}

/** By id, above `after`: columns and record of each, which must say the same. */
export function supersededToVerify(db: ReadableDb, after: number, count: number): SupersededToVerify[] {
  return sql`SELECT id, row_id, dimension, calibration_id, size_um,
    measurement_json ->> '$.dimension' AS "recordDimension",
      measurement_json ->> '$.calibrationId' AS "recordCalibration",
      measurement_json ->> '$.size.value' AS "recordSize"
    FROM superseded_measurement WHERE id > ${after} ORDER BY id LIMIT ${count}`
    .all(db)
    .map((row) => ({
      id: Number(row.id),
      rowId: String(row.row_id),
      columns: { dimension: row.dimension, calibrationId: row.calibration_id, size: row.size_um },
      record: { dimension: row.recordDimension, calibrationId: row.recordCalibration, size: row.recordSize },
    }));
}

/** The replaced results of the rows on a sheet by id, above `after`, with those ids. */
export function supersededOfSheet(
  db: ReadableDb,
  sheetId: string,
  after: number,
  count: number,
): { readonly id: number; readonly result: ReplacedResult }[] {
  return sql`SELECT s.id, s.row_id AS "rowId", s.measurement_json AS measurement, s.at, s.by, s.act, s.reason
    FROM superseded_measurement s CROSS JOIN specimen_row r ON r.id = s.row_id
    WHERE r.sheet_id = ${sheetId} AND r.undone_at IS NULL AND s.id > ${after} ORDER BY s.id LIMIT ${count}`
    .all(db)
    .map(({ id, measurement, ...row }) => ({
      id: Number(id),
      result: ReplacedResult.parse({ ...row, measurement: JSON.parse(String(measurement)) }),
    }));
}

/** Ids of the trains that replaced results of a sheet were measured with. */
export function trainsOfSuperseded(db: ReadableDb, sheetId: string): string[] {
  return sql`SELECT DISTINCT s.measurement_json ->> '$.trainId' AS id
    FROM specimen_row r JOIN superseded_measurement s ON s.row_id = r.id
    WHERE r.sheet_id = ${sheetId} AND r.undone_at IS NULL ORDER BY 1`.all(db, firstText);
}

/** Ids of the calibrations that replaced results of a sheet were converted with. */
export function calibrationsOfSuperseded(db: ReadableDb, sheetId: string): string[] {
  return sql`SELECT DISTINCT s.calibration_id AS id
    FROM specimen_row r JOIN superseded_measurement s ON s.row_id = r.id
    WHERE r.sheet_id = ${sheetId} AND r.undone_at IS NULL
    AND s.calibration_id IS NOT NULL`.all(db, firstText);
}
