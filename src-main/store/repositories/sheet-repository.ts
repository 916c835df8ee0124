import { LabelledRow, type SheetSearch } from "#core/contract/records/list-search.ts";
import { Sheet, type TrainConfirmation } from "#core/contract/records/sheet.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";
import { labelsWhere, orderOf, sheetsWhere } from "./list-search.ts";

const COLUMNS = sql`id, ordinal, sample, customer, containers, volume, portion, note, method_id AS "methodId",
  microscope_id AS "microscopeId",
  eyepiece_id AS "eyepieceId", intermediate_magnification AS "intermediateMagnification",
  objective_id AS "objectiveId", opened_at AS "openedAt", opened_by AS "openedBy", row_count AS "rowCount",
  struck_count AS "struckCount", confirmed_json AS "lastConfirmed"`;

/** `S-0001`, by the running number of the bench. */
export function sheetNumber(ordinal: number): string {
  return `S-${String(ordinal).padStart(4, "0")}`;
}

function sheetOf({ ordinal, customer, containers, volume, portion, lastConfirmed, ...row }: Row): Sheet {
  const named = Object.entries({ customer, containers, volume, portion });
  return Sheet.parse({
    ...row,
    ...Object.fromEntries(named.filter(([, word]) => word !== null)),
    number: sheetNumber(Number(ordinal)),
    lastConfirmed: lastConfirmed === null ? null : JSON.parse(String(lastConfirmed)),
  });
}

/** Newest first. */
export function listSheets(db: ReadableDb): Sheet[] {
  return sql`SELECT ${COLUMNS} FROM sheet ORDER BY ordinal DESC`.all(db, sheetOf);
}

/** One page of the sheets that a search finds, and how many there are on all pages. */
export function searchSheets(db: ReadableDb, search: SheetSearch): { total: number; sheets: Sheet[] } {
  const found = sql`FROM sheet WHERE ${sheetsWhere(search)}`;
  const order = orderOf(search, "row_count");
  const page = sql`SELECT ${COLUMNS} ${found} ORDER BY ${order} LIMIT ${search.count} OFFSET ${search.skip}`;
  return { total: sql`SELECT count(*) ${found}`.number(db), sheets: page.all(db, sheetOf) };
}

/** Rows by their label, those entered last first. */
export function rowsByLabel(db: ReadableDb, words: string, count: number): LabelledRow[] {
  return sql`SELECT r.id AS "rowId", s.id AS "sheetId", s.ordinal AS "sheetOrdinal", s.sample, r.ordinal,
    r.label
    FROM specimen_row r CROSS JOIN sheet s ON s.id = r.sheet_id
    WHERE ${labelsWhere(words)} ORDER BY r.rowid DESC LIMIT ${count}`
    .all(db)
    .map(({ sheetOrdinal, ...row }) =>
      LabelledRow.parse({ ...row, sheetNumber: sheetNumber(Number(sheetOrdinal)) }),
    );
}

export function findSheet(db: ReadableDb, id: string): Sheet | null {
  return sql`SELECT ${COLUMNS} FROM sheet WHERE id = ${id}`.one(db, sheetOf);
}

/** The printed number of every sheet, by its id. */
export function sheetNumbers(db: ReadableDb): ReadonlyMap<string, string> {
  return new Map(
    sql`SELECT id, ordinal FROM sheet`
      .all(db)
      .map((row) => [String(row.id), sheetNumber(Number(row.ordinal))]),
  );
}

/** The running number in a printed one; null when it is none. */
export function ordinalOfNumber(number: string): number | null {
  const ordinal = Number(/^S-(\d{4,9})$/.exec(number)?.[1] ?? 0);
  return ordinal > 0 && sheetNumber(ordinal) === number ? ordinal : null;
}

/** Inserts an empty sheet under the next running number, or under the one given. */
export function insertSheet(
  db: WritableDb,
  sheet: Omit<Sheet, "number" | "rowCount" | "struckCount" | "lastConfirmed">,
  ordinal: number | null = null,
): void {
  insert(db, "sheet", {
    id: sheet.id,
    ordinal: ordinal ?? sql`(SELECT coalesce(max(ordinal), 0) + 1 FROM sheet)`,
    sample: sheet.sample,
    customer: sheet.customer ?? null,
    containers: sheet.containers ?? null,
    volume: sheet.volume ?? null,
    portion: sheet.portion ?? null,
    note: sheet.note,
    method_id: sheet.methodId,
    microscope_id: sheet.microscopeId,
    eyepiece_id: sheet.eyepieceId,
    intermediate_magnification: sheet.intermediateMagnification,
    objective_id: sheet.objectiveId,
    opened_at: sheet.openedAt,
    opened_by: sheet.openedBy,
    row_count: 0,
    struck_count: 0,
  });
}

/** The train of every row begun from now on. */
export function setTrainInUse(
  db: WritableDb,
  sheetId: string,
  { objectiveId, intermediateMagnification }: Pick<Sheet, "objectiveId" | "intermediateMagnification">,
): void {
  sql`UPDATE sheet SET objective_id = ${objectiveId}, intermediate_magnification = ${intermediateMagnification}
    WHERE id = ${sheetId}`.run(db);
}

export function setConfirmed(db: WritableDb, sheetId: string, confirmed: TrainConfirmation): void {
  sql`UPDATE sheet SET confirmed_json = ${JSON.stringify(confirmed)} WHERE id = ${sheetId}`.run(db);
}
