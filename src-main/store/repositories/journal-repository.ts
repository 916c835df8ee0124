import { createHash } from "node:crypto";
import { canonicalJson } from "../canonical-json.ts";
import { all, insert, one, type ReadableDb, run, type WritableDb } from "../connection.ts";
import { keyOfRow } from "./measurement-keys.ts";

export interface JournalAct {
  readonly id: number;
  readonly sheetId: string;
  /** What was done, in words that follow “Taken back: …”. */
  readonly words: string;
}

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
  run(db, "UPDATE sheet_act SET state = 'cleared' WHERE sheet_id = ? AND state = 'undone'", sheetId);
}

/** Adds an act; what could have been done again until now no longer can. */
export function addAct(
  db: WritableDb,
  act: Omit<JournalAct, "id"> & { readonly at: string; readonly by: string },
  changes: Iterable<JournalChange>,
): void {
  forgetUndone(db, act.sheetId);
  insert(db, "sheet_act", { sheet_id: act.sheetId, words: act.words, state: "done", at: act.at, by: act.by });
  const id = Number(one(db, "SELECT last_insert_rowid() AS id")?.id);
  for (const { rowId, dimension, before, after } of changes) {
    run(
      db,
      `INSERT INTO sheet_act_change (act_id, row_key, dimension, before_json, after_digest)
       VALUES (?, ${keyOfRow()}, ?, ?, unhex(?))`,
      id,
      rowId,
      dimension,
      before === null ? null : JSON.stringify(before),
      digestOfRecord(after),
    );
  }
}

function actOf(row: Readonly<Record<string, unknown>> | undefined): JournalAct | null {
  return row ? { id: Number(row.id), sheetId: String(row.sheetId), words: String(row.words) } : null;
}

const ACT = `id, sheet_id AS "sheetId", words`;
export const LAST_DONE = `SELECT ${ACT} FROM sheet_act WHERE sheet_id = ? AND state = 'done' ORDER BY id DESC LIMIT 1`;
export const FIRST_UNDONE = `SELECT ${ACT} FROM sheet_act WHERE sheet_id = ? AND state = 'undone' ORDER BY id LIMIT 1`;

/** The act that undo would take back. */
export function lastDone(db: ReadableDb, sheetId: string): JournalAct | null {
  return actOf(one(db, LAST_DONE, sheetId));
}

/** The act that redo would do again: of those taken back the one taken back last. */
export function firstUndone(db: ReadableDb, sheetId: string): JournalAct | null {
  return actOf(one(db, FIRST_UNDONE, sheetId));
}

export function findAct(db: ReadableDb, id: number): JournalAct | null {
  return actOf(one(db, `SELECT ${ACT} FROM sheet_act WHERE id = ?`, id));
}

function parsed(text: unknown): unknown {
  return text === null ? null : JSON.parse(String(text));
}

export function changesOfAct(db: ReadableDb, actId: number): KeptChange[] {
  return all(
    db,
    `SELECT r.id AS "rowId", c.dimension, c.before_json AS before, c.after_json AS after,
       lower(hex(c.after_digest)) AS "afterDigest"
     FROM sheet_act_change c CROSS JOIN specimen_row r ON r.key = c.row_key WHERE c.act_id = ?`,
    actId,
  ).map((row) => ({
    rowId: String(row.rowId),
    dimension: String(row.dimension),
    before: parsed(row.before),
    after: parsed(row.after),
    afterDigest: String(row.afterDigest),
  }));
}

/** Ids of the rows an act was about. */
export function rowsOfAct(db: ReadableDb, actId: number): string[] {
  return all(
    db,
    `SELECT DISTINCT r.id FROM sheet_act_change c CROSS JOIN specimen_row r ON r.key = c.row_key WHERE c.act_id = ?`,
    actId,
  ).map((row) => String(row.id));
}

export function setActState(db: WritableDb, actId: number, state: "done" | "undone"): void {
  run(db, "UPDATE sheet_act SET state = ? WHERE id = ?", state, actId);
}

/** Keeps what an act had made of a record, so that the act can be done again. */
export function keepAfter(db: WritableDb, actId: number, change: Omit<JournalChange, "before">): void {
  run(
    db,
    `UPDATE sheet_act_change SET after_json = ? WHERE act_id = ? AND row_key = ${keyOfRow()} AND dimension = ?`,
    change.after === null ? null : JSON.stringify(change.after),
    actId,
    change.rowId,
    change.dimension,
  );
}
