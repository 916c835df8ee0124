import { CellDraft, type ReadingCell } from "#core/contract/records/sheet.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

/** Text left in a cell of a second reading. */
type SecondDraft = Omit<CellDraft, "sheetId">;

export function draftsOfSecondReading(db: ReadableDb, id: string): SecondDraft[] {
  return sql`SELECT row_id AS "rowId", dimension, edge, repeat, typed FROM second_reading_draft
    WHERE second_reading_id = ${id}`
    .all(db)
    .map(({ dimension, edge, repeat, ...draft }) =>
      CellDraft.omit({ sheetId: true }).parse({ ...draft, cell: { dimension, edge, repeat } }),
    );
}

export function keepSecondDraft(db: WritableDb, id: string, { rowId, cell, typed }: SecondDraft): void {
  const { dimension, edge, repeat } = cell;
  const place = { second_reading_id: id, row_id: rowId, dimension, edge, repeat };
  insert(db, "second_reading_draft", { ...place, typed }, Object.keys(place));
}

/** Forgets what is half-typed in one cell of a second reading, or in all of it. */
export function forgetSecondDrafts(
  db: WritableDb,
  id: string,
  at: Pick<SecondDraft, "rowId" | "cell"> | null,
): void {
  const cell = at
    ? sql`AND row_id = ${at.rowId} AND dimension = ${at.cell.dimension} AND edge = ${at.cell.edge}
      AND repeat = ${at.cell.repeat}`
    : sql``;
  sql`DELETE FROM second_reading_draft WHERE second_reading_id = ${id} ${cell}`.run(db);
}

export function draftsOfSheet(db: ReadableDb, sheetId: string): CellDraft[] {
  return sql`SELECT sheet_id AS "sheetId", row_id AS "rowId", dimension, edge, repeat, typed FROM cell_draft
    WHERE sheet_id = ${sheetId}`
    .all(db)
    .map(({ dimension, edge, repeat, ...draft }) =>
      CellDraft.parse({ ...draft, cell: { dimension, edge, repeat } }),
    );
}

export function keepDraft(db: WritableDb, draft: CellDraft): void {
  const { dimension, edge, repeat } = draft.cell;
  const cell = { sheet_id: draft.sheetId, row_id: draft.rowId, dimension, edge, repeat };
  insert(db, "cell_draft", { ...cell, typed: draft.typed }, Object.keys(cell));
}

export function forgetDraft(db: WritableDb, sheetId: string, rowId: string, cell: ReadingCell): void {
  sql`DELETE FROM cell_draft
    WHERE sheet_id = ${sheetId} AND row_id = ${rowId} AND dimension = ${cell.dimension}
    AND edge = ${cell.edge} AND repeat = ${cell.repeat}`.run(db);
}
