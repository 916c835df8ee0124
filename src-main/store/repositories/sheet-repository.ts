import { Sheet, type TrainConfirmation } from "#core/contract/records/sheet.ts";
import { all, one, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";

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
