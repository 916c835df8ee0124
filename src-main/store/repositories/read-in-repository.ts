import { createHash } from "node:crypto";
import { ReadIn } from "#core/contract/records/read-in.ts";
import { TrailLine } from "#core/contract/records/trail.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { insert, type Query, sql } from "../sql.ts";

function readInOf(row: Row): ReadIn {
  return ReadIn.parse(JSON.parse(String(row.record)));
}

export function insertReadIn(db: WritableDb, readIn: ReadIn): void {
  insert(db, "read_in", {
    id: readIn.id,
    record_json: JSON.stringify(readIn),
    at: readIn.readAt,
    by: readIn.readBy,
  });
}

export function findReadIn(db: ReadableDb, id: string): ReadIn | null {
  return sql`SELECT record_json AS record FROM read_in WHERE id = ${id}`.one(db, readInOf);
}

export function listReadIns(db: ReadableDb): ReadIn[] {
  return sql`SELECT record_json AS record FROM read_in ORDER BY rowid`.all(db, readInOf);
}

export function insertReadInAmendments(
  db: WritableDb,
  sheetId: string,
  amendments: readonly TrailLine[],
): void {
  amendments.forEach((line, index) => {
    insert(db, "read_in_amendment", {
      sheet_id: sheetId,
      ordinal: index + 1,
      line_json: JSON.stringify(line),
    });
  });
}

const amendmentsIn = (sheetId: string): Query =>
  sql`SELECT line_json AS line FROM read_in_amendment WHERE sheet_id = ${sheetId} ORDER BY ordinal`;

/** The amendments of a sheet that were made on the bench it was exported from, in their order there. */
export function readInAmendments(db: ReadableDb, sheetId: string): TrailLine[] {
  return amendmentsIn(sheetId).all(db, (row) => TrailLine.parse(JSON.parse(String(row.line))));
}

/** SHA-256 over those amendments as they are kept, a line each. */
export function readInAmendmentsSha256(db: ReadableDb, sheetId: string): string {
  const hash = createHash("sha256");
  for (const row of amendmentsIn(sheetId).each(db)) hash.update(`${row.line}\n`, "utf8");
  return hash.digest("hex");
}

/** Last id of a kept result; 0: none is kept. */
export function lastSupersededId(db: ReadableDb): number {
  return sql`SELECT coalesce(max(id), 0) AS id FROM superseded_measurement`.number(db);
}

/** What is on the bench beside people, in words such as `2 microscopes`; empty: nothing is. */
export function benchHolds(db: ReadableDb): string[] {
  return Object.entries(
    sql`SELECT (SELECT count(*) FROM microscope) AS microscope,
      (SELECT count(*) FROM stage_micrometer) AS "stage micrometer", (SELECT count(*) FROM method) AS method,
      (SELECT count(*) FROM sheet) AS sheet, (SELECT count(*) FROM count_method) AS "count method",
      (SELECT count(*) FROM category_list) AS "category list",
      (SELECT count(*) FROM tally) AS count`.one(db) ?? {},
  )
    .filter(([, count]) => Number(count) > 0)
    .map(([what, count]) => countedNoun(Number(count), what));
}
