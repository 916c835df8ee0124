import type { TrailEvent } from "#core/contract/trail-events/trail-event.ts";
import { randomIds } from "#main/ports/ids.ts";
import { type BenchDb, type Bound, immediate, type Row, type WritableDb } from "#main/store/connection.ts";
import { appendTrail, trailOf } from "#main/store/repositories/audit-trail.ts";
import { insert, sql } from "#main/store/sql.ts";

/** What a table holds in a row, to be put into another. */
type Held = Readonly<Record<string, Bound>>;
const held = (row: Row): Held => row as Held;

/** The lines about one record once more, about its copy; `renamed` are texts of the original and what they become. */
function tellAgain(
  db: WritableDb,
  subjectId: string,
  copyId: string,
  renamed: readonly (readonly [string, string])[],
): void {
  for (const { at, personId, act, subject, reason, detail } of trailOf(db, subjectId)) {
    const told = renamed.reduce((text, [from, to]) => text.replaceAll(`"${from}"`, `"${to}"`), detail);
    const event = { act, subject, subjectId: copyId, reason, detail: JSON.parse(told) } as TrailEvent;
    appendTrail(db, event, { at, personId });
  }
}

const numberOf = (ordinal: unknown): string => `S-${String(ordinal).padStart(4, "0")}`;

/** A sheet once more, with its rows, results, journal and lines in the trail, under identifiers of its own. */
function copySheet(db: WritableDb, sheet: Held, ordinal: number): void {
  const sheetId = String(sheet.id);
  const copyId = randomIds.next();
  // Rows count themselves nowhere: the number of rows is copied with the sheet.
  insert(db, "sheet", { ...sheet, id: copyId, ordinal });
  tellAgain(db, sheetId, copyId, [[numberOf(sheet.ordinal), numberOf(ordinal)]]);
  const copies = new Map<number, number>();
  for (const row of sql`SELECT * FROM specimen_row WHERE sheet_id = ${sheetId} ORDER BY ordinal`.all(
    db,
    held,
  )) {
    const { key, ...facts } = row;
    const [id, copiedId] = [String(row.id), randomIds.next()];
    insert(db, "specimen_row", { ...facts, id: copiedId, sheet_id: copyId });
    const copiedKey = sql`SELECT last_insert_rowid()`.number(db);
    copies.set(Number(key), copiedKey);
    for (const measured of sql`SELECT * FROM measurement WHERE row_key = ${Number(key)}`.all(db, held)) {
      insert(db, "measurement", { ...measured, row_key: copiedKey });
    }
    tellAgain(db, id, copiedId, [[sheetId, copyId]]);
  }
  for (const { id, ...act } of sql`SELECT * FROM sheet_act WHERE sheet_id = ${sheetId} ORDER BY id`.all(
    db,
    held,
  )) {
    insert(db, "sheet_act", { ...act, sheet_id: copyId });
    const actId = sql`SELECT last_insert_rowid()`.number(db);
    for (const change of sql`SELECT * FROM sheet_act_change WHERE act_id = ${Number(id)}`.all(db, held)) {
      insert(db, "sheet_act_change", {
        ...change,
        act_id: actId,
        row_key: copies.get(Number(change.row_key)) ?? null,
      });
    }
  }
}

/** Copies the sheets of a bench, one after the other and all over again, until it has so many. */
export function copySheets(db: BenchDb, sheets: number): void {
  const originals = sql`SELECT * FROM sheet ORDER BY ordinal`.all(db, held);
  for (let ordinal = originals.length + 1; ordinal <= sheets; ordinal += 1) {
    const original = originals[(ordinal - 1) % originals.length];
    if (original) immediate(db, (writable) => copySheet(writable, original, ordinal));
  }
}
