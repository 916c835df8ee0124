import { PlacedRow } from "#core/contract/records/sheet.ts";
import type { ReadableDb } from "../connection.ts";
import { sql } from "../sql.ts";
import { stageOf } from "./row-repository.ts";

/** Rows on their sheet whose place on the stage is known, by ordinal. */
export function placedRows(db: ReadableDb, sheetId: string): PlacedRow[] {
  return sql`SELECT r.id AS "rowId", r.ordinal, r.label, r.stage_x AS "stageX", r.stage_y AS "stageY",
      r.stage_square AS "stageSquare", r.struck_at IS NOT NULL AS "isStruck"
    FROM specimen_row r
    WHERE r.sheet_id = ${sheetId} AND r.undone_at IS NULL AND r.stage_x IS NOT NULL ORDER BY r.ordinal`.all(
    db,
    ({ stageX, stageY, stageSquare, isStruck, ...row }) =>
      PlacedRow.parse({ ...row, stage: stageOf({ stageX, stageY, stageSquare }), isStruck: isStruck === 1 }),
  );
}
