import { all, one, type ReadableDb, run, type WritableDb } from "../connection.ts";

/** The last part put aside of a block, and how long it is so far; null before the first. */
export function endOfBlock(
  db: ReadableDb,
  blockId: string,
): { readonly sheetId: string; readonly part: number; readonly characters: number } | null {
  const row = one(
    db,
    `SELECT min(sheet_id) AS "sheetId", max(part) AS part, sum(length(text)) AS characters FROM staged_block
     WHERE block_id = ?`,
    blockId,
  );
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
  run(
    db,
    `INSERT INTO staged_block (block_id, part, sheet_id, text, at) VALUES (?, ?, ?, ?, ?)
     ON CONFLICT (block_id, part) DO UPDATE SET text = excluded.text, at = excluded.at`,
    part.blockId,
    part.part,
    part.sheetId,
    part.text,
    part.at,
  );
}

/** The whole text; null when nothing was put aside for this sheet. */
export function textOfBlock(db: ReadableDb, sheetId: string, blockId: string): string | null {
  const parts = all(
    db,
    "SELECT text FROM staged_block WHERE block_id = ? AND sheet_id = ? ORDER BY part",
    blockId,
    sheetId,
  );
  return parts.length === 0 ? null : parts.map((row) => String(row.text)).join("");
}

export function forgetBlock(db: WritableDb, blockId: string): void {
  run(db, "DELETE FROM staged_block WHERE block_id = ?", blockId);
}

const KEPT_MS = 86_400_000;

/** A paste nobody accepted within a day is no longer wanted; it was no record of the bench. */
export function forgetOldBlocks(db: WritableDb, now: string): void {
  run(db, "DELETE FROM staged_block WHERE at < ?", new Date(Date.parse(now) - KEPT_MS).toISOString());
}
