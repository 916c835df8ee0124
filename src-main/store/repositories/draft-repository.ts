import { CellDraft, type ReadingCell } from "#core/contract/records/sheet.ts";
import { all, type ReadableDb, run, type WritableDb } from "../connection.ts";

export function draftsOfSheet(db: ReadableDb, sheetId: string): CellDraft[] {
  return all(
    db,
    `SELECT sheet_id AS "sheetId", row_id AS "rowId", dimension, edge, repeat, typed FROM cell_draft WHERE sheet_id = ?`,
    sheetId,
  ).map(({ dimension, edge, repeat, ...draft }) =>
    CellDraft.parse({ ...draft, cell: { dimension, edge, repeat } }),
  );
}

export function keepDraft(db: WritableDb, draft: CellDraft): void {
  run(
    db,
    `INSERT INTO cell_draft (sheet_id, row_id, dimension, edge, repeat, typed) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT (sheet_id, row_id, dimension, edge, repeat) DO UPDATE SET typed = excluded.typed`,
    draft.sheetId,
    draft.rowId,
    draft.cell.dimension,
    draft.cell.edge,
    draft.cell.repeat,
    draft.typed,
  );
}

export function forgetDraft(db: WritableDb, sheetId: string, rowId: string, cell: ReadingCell): void {
  run(
    db,
    "DELETE FROM cell_draft WHERE sheet_id = ? AND row_id = ? AND dimension = ? AND edge = ? AND repeat = ?",
    sheetId,
    rowId,
    cell.dimension,
    cell.edge,
    cell.repeat,
  );
}
