import type { ReadableDb, WritableDb } from "../connection.ts";
import { firstText, sql } from "../sql.ts";

/** The last part put aside of a block, and how long it is so far; null before the first. */
export function endOfBlock(
  db: ReadableDb,
  blockId: string,
): { readonly sheetId: string; readonly part: number; readonly characters: number } | null {
  const row = sql`SELECT min(sheet_id) AS "sheetId", max(part) AS part, sum(length(text)) AS characters
    FROM staged_block
    WHERE block_id = ${blockId}`.one(db);
  if (!row || row.part === null) return null;
  return { sheetId: String(row.sheetId), part: Number(row.part), characters: Number(row.characters) };
}

export function appendPart(
  db: WritableDb,
  part: {
    readonly sheetId: string;
    readonly blockId: string;
    readonly part: number;
    readonly text: string;
    readonly at: string;
  },
): void {
  sql`INSERT INTO staged_block (block_id, part, sheet_id, text, at)
    VALUES (${part.blockId}, ${part.part}, ${part.sheetId}, ${part.text}, ${part.at})
    ON CONFLICT (block_id, part) DO UPDATE SET text = excluded.text, at = excluded.at`.run(db);
}

/** The whole text; null when nothing was put aside for this sheet. */
export function textOfBlock(db: ReadableDb, sheetId: string, blockId: string): string | null {
  const parts = sql`SELECT text FROM staged_block
    WHERE block_id = ${blockId} AND sheet_id = ${sheetId} ORDER BY part`.all(db, firstText);
  return parts.length === 0 ? null : parts.join("");
}

export function forgetBlock(db: WritableDb, blockId: string): void {
  sql`DELETE FROM staged_block WHERE block_id = ${blockId}`.run(db);
}

const KEPT_MS = 86_400_000;

/** A paste nobody accepted within a day is no longer wanted; it was no record of the bench. */
export function forgetOldBlocks(db: WritableDb, now: string): void {
  sql`DELETE FROM staged_block WHERE at < ${new Date(Date.parse(now) - KEPT_MS).toISOString()}`.run(db);
}
