import { type SheetState, SignOff } from "#core/contract/records/sign-off.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { firstText, insert, type Query, sql } from "../sql.ts";

const COLUMNS = sql`id, sheet_id AS "sheetId", kind, at, by, words, data_sha256 AS "dataSha256",
  ended_at AS "endedAt",
  ended_by AS "endedBy", end_reason AS "endReason", reset_at AS "resetAt", reset_voucher AS "resetVoucher"`;

function signOffOf({ endedAt, endedBy, endReason, resetAt, resetVoucher, ...row }: Row): SignOff {
  const ended = endedAt === null ? null : { at: endedAt, by: endedBy, reason: endReason };
  const mark = resetAt === null ? {} : { pinReset: { at: resetAt, voucher: resetVoucher } };
  return SignOff.parse({ ...row, ended, ...mark });
}

/** Newest first. */
export function signOffsOfSheet(db: ReadableDb, sheetId: string): SignOff[] {
  return sql`SELECT ${COLUMNS} FROM sheet_sign_off WHERE sheet_id = ${sheetId}
    ORDER BY at DESC, rowid DESC`.all(db, signOffOf);
}

/** Those that stand, of every sheet. */
export function currentSignOffs(db: ReadableDb): SignOff[] {
  return sql`SELECT ${COLUMNS} FROM sheet_sign_off WHERE ended_at IS NULL ORDER BY rowid`.all(db, signOffOf);
}

/** Every sign-off there has been, of every sheet, oldest first. */
export function listSignOffs(db: ReadableDb): SignOff[] {
  return sql`SELECT ${COLUMNS} FROM sheet_sign_off ORDER BY rowid`.all(db, signOffOf);
}

/** What a sheet is, by the sign-offs that stand. */
const stateOfSheet = (sheetId: string): Query => sql`SELECT
  max(kind = 'signed' AND ended_at IS NULL) AS signed,
  max(kind = 'reviewed' AND ended_at IS NULL) AS reviewed,
  max(kind = 'closed' AND ended_at IS NULL) AS closed, max(kind = 'signed') AS once
  FROM sheet_sign_off WHERE sheet_id = ${sheetId}`;

export interface SheetSignOffState {
  readonly state: SheetState;
  /** It had been signed, and the signature fell. */
  readonly asksForSignature: boolean;
}

function signOffStateOf(row: Row | null): SheetSignOffState {
  const state = row?.signed ? "signed" : row?.reviewed ? "reviewed" : row?.closed ? "closed" : "open";
  return { state, asksForSignature: row?.once === 1 && state !== "signed" };
}

export function signOffStateOfSheet(db: ReadableDb, sheetId: string): SheetSignOffState {
  return signOffStateOf(stateOfSheet(sheetId).one(db));
}

/** The standing of every sheet that was ever closed. */
export function signOffStatesOfSheets(db: ReadableDb): ({ readonly sheetId: string } & SheetSignOffState)[] {
  return sql`SELECT sheet_id AS "sheetId", max(kind = 'signed' AND ended_at IS NULL) AS signed,
    max(kind = 'reviewed' AND ended_at IS NULL) AS reviewed,
    max(kind = 'closed' AND ended_at IS NULL) AS closed,
    max(kind = 'signed') AS once FROM sheet_sign_off GROUP BY sheet_id`.all(db, (row) => ({
    sheetId: String(row.sheetId),
    ...signOffStateOf(row),
  }));
}

export function insertSignOff(db: WritableDb, signOff: Omit<SignOff, "ended">): void {
  insert(db, "sheet_sign_off", {
    id: signOff.id,
    sheet_id: signOff.sheetId,
    kind: signOff.kind,
    at: signOff.at,
    by: signOff.by,
    words: signOff.words,
    data_sha256: signOff.dataSha256,
    reset_at: signOff.pinReset?.at ?? null,
    reset_voucher: signOff.pinReset?.voucher ?? null,
  });
}

/** Ends what stands of the given kinds. @returns how many fell */
export function endSignOffs(
  db: WritableDb,
  sheetId: string,
  kinds: readonly SignOff["kind"][],
  end: { readonly at: string; readonly by: string; readonly reason: string },
): number {
  return sql`UPDATE sheet_sign_off SET ended_at = ${end.at}, ended_by = ${end.by}, end_reason = ${end.reason}
    WHERE sheet_id = ${sheetId} AND ended_at IS NULL
    AND kind IN (SELECT value FROM json_each(${JSON.stringify(kinds)}))`.run(db);
}

/** Who measured on a sheet or changed it. */
export function readersOfSheet(db: ReadableDb, sheetId: string): string[] {
  return sql`SELECT DISTINCT ms.entered_by AS id FROM specimen_row r
    CROSS JOIN measurement m ON m.row_key = r.key
      CROSS JOIN measurement_source ms ON ms.id = m.source
    WHERE r.sheet_id = ${sheetId}`.all(db, firstText);
}

/** Inserts a sign-off with the end it has had, if any: one read from a file. */
export function insertEndedSignOff(db: WritableDb, signOff: SignOff): void {
  insertSignOff(db, signOff);
  if (!signOff.ended) return;
  const { at, by, reason } = signOff.ended;
  sql`UPDATE sheet_sign_off SET ended_at = ${at}, ended_by = ${by}, end_reason = ${reason}
    WHERE id = ${signOff.id}`.run(db);
}
