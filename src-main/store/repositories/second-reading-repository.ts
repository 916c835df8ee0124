import {
  AgreementReport,
  SecondReading,
  type SecondReadingChoice,
} from "#core/contract/records/second-reading.ts";
import { Measurement } from "#core/contract/records/sheet.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { firstText, insert, sql } from "../sql.ts";

const COLUMNS = sql`s.id, s.sheet_id AS "sheetId", s.number, s.choice_json AS choice,
  s.started_at AS "startedAt",
  s.reader,
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
  return sql`SELECT ${COLUMNS} FROM second_reading s WHERE s.id = ${id}`.one(db, secondReadingOf);
}

/** Newest first. */
export function secondReadingsOfSheet(db: ReadableDb, sheetId: string): StoredSecondReading[] {
  return sql`SELECT ${COLUMNS} FROM second_reading s WHERE s.sheet_id = ${sheetId}
    ORDER BY s.number DESC`.all(db, secondReadingOf);
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
  const { id, sheetId } = reading;
  insert(db, "second_reading", {
    id,
    sheet_id: sheetId,
    number: sql`(SELECT coalesce(max(number), 0) + 1 FROM second_reading WHERE sheet_id = ${sheetId})`,
    choice_json: JSON.stringify(reading.choice),
    started_at: reading.startedAt,
    reader: reading.reader,
    same_reader: reading.sameReader ? 1 : 0,
    note: reading.note,
  });
  rowIds.forEach((rowId, i) => {
    insert(db, "second_reading_row", { second_reading_id: reading.id, place: i + 1, row_id: rowId });
  });
}

/** Ids of the rows to read, in the order of reading. */
export function rowsOfSecondReading(db: ReadableDb, id: string): string[] {
  return sql`SELECT row_id AS id FROM second_reading_row
    WHERE second_reading_id = ${id} ORDER BY place`.all(db, firstText);
}

/** What the second reader read, by row. */
export function secondMeasurements(db: ReadableDb, id: string): Map<string, Measurement[]> {
  const byRow = new Map<string, Measurement[]>();
  const rows = sql`SELECT row_id AS "rowId", measurement_json AS json FROM second_reading_measurement
    WHERE second_reading_id = ${id}`.all(db);
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
  return sql`SELECT second_reading_id AS id, row_id AS "rowId", dimension FROM second_reading_measurement
    WHERE dimension <> measurement_json ->> '$.dimension'`
    .all(db)
    .map(({ id, rowId, dimension }) => ({
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
  const key = { second_reading_id: id, row_id: rowId, dimension: measurement.dimension };
  const kept = { ...key, measurement_json: JSON.stringify(measurement) };
  insert(db, "second_reading_measurement", kept, Object.keys(key));
}

export function closeSecondReading(
  db: WritableDb,
  id: string,
  closed: { readonly at: string; readonly by: string; readonly report: AgreementReport },
): void {
  sql`UPDATE second_reading SET closed_at = ${closed.at}, closed_by = ${closed.by},
    report_json = ${JSON.stringify(closed.report)} WHERE id = ${id}`.run(db);
}

/** The report as it was when the second reading was closed; null while it is open. */
export function reportOfSecondReading(db: ReadableDb, id: string): AgreementReport | null {
  const row = sql`SELECT report_json AS report FROM second_reading WHERE id = ${id}`.one(db);
  return row && row.report !== null ? AgreementReport.parse(JSON.parse(String(row.report))) : null;
}
