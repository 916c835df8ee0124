import { createHash } from "node:crypto";
import { canonicalJson } from "../canonical-json.ts";
import { columns } from "../columns.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { firstText, insert, type Query, sql } from "../sql.ts";
import { keyOfRow } from "./measurement-keys.ts";

export type JournalAct = ReturnType<typeof actOf>;
const actOf = columns({
  id: "number",
  sheetId: "text",
  /** What was done, in words that follow “Taken back: …”. */
  words: "text",
});

/** What an act replaced: a row itself when `dimension` is empty, else one measurement; null: there was none. */
export interface JournalChange {
  readonly rowId: string;
  readonly dimension: string;
  readonly before: unknown;
  readonly after: unknown;
}

export interface KeptChange extends Omit<JournalChange, "after"> {
  /** Kept when the act was taken back: what doing it again restores. */
  readonly after: unknown;
  /** Tells whether a record still is as the act left it. */
  readonly afterDigest: string;
}

/** Equal records, equal digest. */
export function digestOfRecord(record: unknown): string {
  return createHash("sha256").update(canonicalJson(record), "utf8").digest("hex").slice(0, 20);
}

/** What could have been done again until now no longer can. */
export function forgetUndone(db: WritableDb, sheetId: string): void {
  sql`UPDATE sheet_act SET state = 'cleared' WHERE sheet_id = ${sheetId} AND state = 'undone'`.run(db);
}

/** Adds an act; what could have been done again until now no longer can. */
export function addAct(
  db: WritableDb,
  act: Omit<JournalAct, "id"> & { readonly at: string; readonly by: string },
  changes: Iterable<JournalChange>,
): void {
  forgetUndone(db, act.sheetId);
  insert(db, "sheet_act", { sheet_id: act.sheetId, words: act.words, state: "done", at: act.at, by: act.by });
  const id = sql`SELECT last_insert_rowid() AS id`.number(db);
  for (const { rowId, dimension, before, after } of changes) {
    insert(db, "sheet_act_change", {
      act_id: id,
      row_key: keyOfRow(rowId),
      dimension,
      before_json: before === null ? null : JSON.stringify(before),
      after_digest: sql`unhex(${digestOfRecord(after)})`,
    });
  }
}

const ACT = sql`id, sheet_id AS "sheetId", words`;
export const lastDoneOf = (sheetId: string): Query =>
  sql`SELECT ${ACT} FROM sheet_act WHERE sheet_id = ${sheetId} AND state = 'done' ORDER BY id DESC LIMIT 1`;
export const firstUndoneOf = (sheetId: string): Query =>
  sql`SELECT ${ACT} FROM sheet_act WHERE sheet_id = ${sheetId} AND state = 'undone' ORDER BY id LIMIT 1`;

/** The act that undo would take back. */
export function lastDone(db: ReadableDb, sheetId: string): JournalAct | null {
  return lastDoneOf(sheetId).one(db, actOf);
}

/** The act that redo would do again: of those taken back the one taken back last. */
export function firstUndone(db: ReadableDb, sheetId: string): JournalAct | null {
  return firstUndoneOf(sheetId).one(db, actOf);
}

export function findAct(db: ReadableDb, id: number): JournalAct | null {
  return sql`SELECT ${ACT} FROM sheet_act WHERE id = ${id}`.one(db, actOf);
}

function parsed(text: unknown): unknown {
  return text === null ? null : JSON.parse(String(text));
}

export function changesOfAct(db: ReadableDb, actId: number): KeptChange[] {
  return sql`SELECT r.id AS "rowId", c.dimension, c.before_json AS before, c.after_json AS after,
      lower(hex(c.after_digest)) AS "afterDigest"
    FROM sheet_act_change c CROSS JOIN specimen_row r ON r.key = c.row_key WHERE c.act_id = ${actId}`
    .all(db)
    .map((row) => ({
      rowId: String(row.rowId),
      dimension: String(row.dimension),
      before: parsed(row.before),
      after: parsed(row.after),
      afterDigest: String(row.afterDigest),
    }));
}

/** Ids of the rows an act was about. */
export function rowsOfAct(db: ReadableDb, actId: number): string[] {
  return sql`SELECT DISTINCT r.id FROM sheet_act_change c CROSS JOIN specimen_row r ON r.key = c.row_key
    WHERE c.act_id = ${actId}`.all(db, firstText);
}

export function setActState(db: WritableDb, actId: number, state: "done" | "undone"): void {
  sql`UPDATE sheet_act SET state = ${state} WHERE id = ${actId}`.run(db);
}

/** Keeps what an act had made of a record, so that the act can be done again. */
export function keepAfter(db: WritableDb, actId: number, change: Omit<JournalChange, "before">): void {
  sql`UPDATE sheet_act_change SET after_json = ${change.after === null ? null : JSON.stringify(change.after)}
    WHERE act_id = ${actId} AND row_key = ${keyOfRow(change.rowId)}
    AND dimension = ${change.dimension}`.run(db);
}
