import { CellDraft, type ReadingCell } from "#core/contract/records/sheet.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

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
