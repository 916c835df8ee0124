import {
  AgreementReport,
  SecondReading,
  type SecondReadingChoice,
} from "#core/contract/records/second-reading.ts";
import { Measurement } from "#core/contract/records/sheet.ts";
import { all, insert, one, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";

const COLUMNS = `s.id, s.sheet_id AS "sheetId", s.number, s.choice_json AS choice, s.started_at AS "startedAt", s.reader,
  s.same_reader AS "sameReader", s.note, s.closed_at AS "closedAt", s.closed_by AS "closedBy",
  (SELECT count(*) FROM second_reading_row r WHERE r.second_reading_id = s.id) AS "rowCount"`;

/** A second reading as it is stored; how many rows are read is for its service to say. */
export type StoredSecondReading = Omit<SecondReading, "readCount">;

function secondReadingOf({ choice, sameReader, ...row }: Row): StoredSecondReading {
  const { readCount: _, ...stored } = SecondReading.parse({
    ...row,
    choice: JSON.parse(String(choice)),
    sameReader: sameReader === 1,
    state: row.closedAt === null ? "open" : "closed",
    readCount: 0,
  });
  return stored;
}

export function findSecondReading(db: ReadableDb, id: string): StoredSecondReading | null {
  const row = one(db, `SELECT ${COLUMNS} FROM second_reading s WHERE s.id = ?`, id);
  return row ? secondReadingOf(row) : null;
}

/** Newest first. */
export function secondReadingsOfSheet(db: ReadableDb, sheetId: string): StoredSecondReading[] {
  return all(
    db,
    `SELECT ${COLUMNS} FROM second_reading s WHERE s.sheet_id = ? ORDER BY s.number DESC`,
    sheetId,
  ).map(secondReadingOf);
}

export function insertSecondReading(
  db: WritableDb,
  reading: {
    readonly id: string;
    readonly sheetId: string;
    readonly choice: SecondReadingChoice;
    readonly startedAt: string;
    readonly reader: string;
    readonly sameReader: boolean;
    readonly note: string;
  },
  rowIds: readonly string[],
): void {
  run(
    db,
    `INSERT INTO second_reading (id, sheet_id, number, choice_json, started_at, reader, same_reader, note)
     VALUES (?, ?, (SELECT coalesce(max(number), 0) + 1 FROM second_reading WHERE sheet_id = ?), ?, ?, ?, ?, ?)`,
    reading.id,
    reading.sheetId,
    reading.sheetId,
    JSON.stringify(reading.choice),
    reading.startedAt,
    reading.reader,
    reading.sameReader ? 1 : 0,
    reading.note,
  );
  rowIds.forEach((rowId, i) => {
    insert(db, "second_reading_row", { second_reading_id: reading.id, place: i + 1, row_id: rowId });
  });
}

/** Ids of the rows to read, in the order of reading. */
export function rowsOfSecondReading(db: ReadableDb, id: string): string[] {
  return all(
    db,
    "SELECT row_id AS id FROM second_reading_row WHERE second_reading_id = ? ORDER BY place",
    id,
  ).map((row) => String(row.id));
}

/** What the second reader read, by row. */
export function secondMeasurements(db: ReadableDb, id: string): Map<string, Measurement[]> {
  const byRow = new Map<string, Measurement[]>();
  const rows = all(
    db,
    `SELECT row_id AS "rowId", measurement_json AS json FROM second_reading_measurement WHERE second_reading_id = ?`,
    id,
  );
  for (const row of rows) {
    const measurement = Measurement.parse(JSON.parse(String(row.json)));
    const list = byRow.get(String(row.rowId));
    if (list) list.push(measurement);
    else byRow.set(String(row.rowId), [measurement]);
  }
  return byRow;
}

/** Second measurements that are kept under another dimension than their own. */
export function misplacedSecondMeasurements(
  db: ReadableDb,
): { readonly id: string; readonly rowId: string; readonly dimension: string }[] {
  return all(
    db,
    `SELECT second_reading_id AS id, row_id AS "rowId", dimension FROM second_reading_measurement
     WHERE dimension <> measurement_json ->> '$.dimension'`,
  ).map(({ id, rowId, dimension }) => ({
    id: String(id),
    rowId: String(rowId),
    dimension: String(dimension),
  }));
}

export function putSecondMeasurement(
  db: WritableDb,
  id: string,
  rowId: string,
  measurement: Measurement,
): void {
  run(
    db,
    `INSERT INTO second_reading_measurement (second_reading_id, row_id, dimension, measurement_json)
     VALUES (?, ?, ?, ?)
     ON CONFLICT (second_reading_id, row_id, dimension) DO UPDATE SET measurement_json = excluded.measurement_json`,
    id,
    rowId,
    measurement.dimension,
    JSON.stringify(measurement),
  );
}

export function closeSecondReading(
  db: WritableDb,
  id: string,
  closed: { readonly at: string; readonly by: string; readonly report: AgreementReport },
): void {
  run(
    db,
    "UPDATE second_reading SET closed_at = ?, closed_by = ?, report_json = ? WHERE id = ?",
    closed.at,
    closed.by,
    JSON.stringify(closed.report),
    id,
  );
}

/** The report as it was when the second reading was closed; null while it is open. */
export function reportOfSecondReading(db: ReadableDb, id: string): AgreementReport | null {
  const row = one(db, "SELECT report_json AS report FROM second_reading WHERE id = ?", id);
  return row && row.report !== null ? AgreementReport.parse(JSON.parse(String(row.report))) : null;
}
