import { LabelledRow, type SheetSearch } from "#core/contract/records/list-search.ts";
import { Sheet, type TrainConfirmation } from "#core/contract/records/sheet.ts";
import { all, one, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";
import { labelsWhere, orderOf, sheetsWhere } from "./list-search.ts";

const COLUMNS = `id, ordinal, sample, customer, note, method_id AS "methodId", microscope_id AS "microscopeId",
  eyepiece_id AS "eyepieceId", intermediate_magnification AS "intermediateMagnification",
  objective_id AS "objectiveId", opened_at AS "openedAt", opened_by AS "openedBy", row_count AS "rowCount",
  struck_count AS "struckCount", confirmed_json AS "lastConfirmed"`;

/** `S-0001`, by the running number of the bench. */
export function sheetNumber(ordinal: number): string {
  return `S-${String(ordinal).padStart(4, "0")}`;
}

function sheetOf({ ordinal, customer, lastConfirmed, ...row }: Row): Sheet {
  return Sheet.parse({
    ...row,
    ...(customer === null ? {} : { customer }),
    number: sheetNumber(Number(ordinal)),
    lastConfirmed: lastConfirmed === null ? null : JSON.parse(String(lastConfirmed)),
  });
}

/** Newest first. */
export function listSheets(db: ReadableDb): Sheet[] {
  return all(db, `SELECT ${COLUMNS} FROM sheet ORDER BY ordinal DESC`).map(sheetOf);
}

/** One page of the sheets that a search finds, and how many there are on all pages. */
export function searchSheets(db: ReadableDb, search: SheetSearch): { total: number; sheets: Sheet[] } {
  const { sql, bound } = sheetsWhere(search);
  const total = one(db, `SELECT count(*) AS n FROM sheet WHERE ${sql}`, ...bound);
  const page = `SELECT ${COLUMNS} FROM sheet WHERE ${sql} ORDER BY ${orderOf(search, "row_count")} LIMIT ? OFFSET ?`;
  return { total: Number(total?.n), sheets: all(db, page, ...bound, search.count, search.skip).map(sheetOf) };
}

/** Rows by their label, those entered last first. */
export function rowsByLabel(db: ReadableDb, words: string, count: number): LabelledRow[] {
  const { sql, bound } = labelsWhere(words);
  return all(
    db,
    `SELECT r.id AS "rowId", s.id AS "sheetId", s.ordinal AS "sheetOrdinal", s.sample, r.ordinal, r.label
     FROM specimen_row r CROSS JOIN sheet s ON s.id = r.sheet_id WHERE ${sql} ORDER BY r.rowid DESC LIMIT ?`,
    ...bound,
    count,
  ).map(({ sheetOrdinal, ...row }) =>
    LabelledRow.parse({ ...row, sheetNumber: sheetNumber(Number(sheetOrdinal)) }),
  );
}

export function findSheet(db: ReadableDb, id: string): Sheet | null {
  const row = one(db, `SELECT ${COLUMNS} FROM sheet WHERE id = ?`, id);
  return row ? sheetOf(row) : null;
}

/** The printed number of every sheet, by its id. */
export function sheetNumbers(db: ReadableDb): ReadonlyMap<string, string> {
  return new Map(
    all(db, "SELECT id, ordinal FROM sheet").map((row) => [String(row.id), sheetNumber(Number(row.ordinal))]),
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
  run(
    db,
    `INSERT INTO sheet (id, ordinal, sample, customer, note, method_id, microscope_id, eyepiece_id,
       intermediate_magnification, objective_id, opened_at, opened_by, row_count, struck_count)
     VALUES (?, coalesce(?, (SELECT coalesce(max(ordinal), 0) + 1 FROM sheet)), ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, 0, 0)`,
    sheet.id,
    ordinal,
    sheet.sample,
    sheet.customer ?? null,
    sheet.note,
    sheet.methodId,
    sheet.microscopeId,
    sheet.eyepieceId,
    sheet.intermediateMagnification,
    sheet.objectiveId,
    sheet.openedAt,
    sheet.openedBy,
  );
}

export function setObjectiveInUse(db: WritableDb, sheetId: string, objectiveId: string): void {
  run(db, "UPDATE sheet SET objective_id = ? WHERE id = ?", objectiveId, sheetId);
}

export function setConfirmed(db: WritableDb, sheetId: string, confirmed: TrainConfirmation): void {
  run(db, "UPDATE sheet SET confirmed_json = ? WHERE id = ?", JSON.stringify(confirmed), sheetId);
}
