import { createHash } from "node:crypto";
import type { ReadableDb } from "../connection.ts";
import { sql } from "../sql.ts";
import { ENTRY } from "./measurement-keys.ts";

/** SHA-256 over everything of a sheet that a signature stands for: JSON arrays of the columns below, a line each. */
export function sheetDataSha256(db: ReadableDb, sheetId: string): string {
  const hash = createHash("sha256");
  const add = (row: object): void => {
    hash.update(`${JSON.stringify(Object.values(row))}\n`, "utf8");
  };
  const { customer, containers, volume, portion, ...head } =
    sql`SELECT sample, note, method_id, microscope_id, eyepiece_id, customer, containers, volume, portion FROM sheet
      WHERE id = ${sheetId}`.one(db) ?? {};
  // A sheet without a customer or an amount tested, and a row without a finder square or sizes converted elsewhere, keep
  // their earlier fingerprint.
  add(customer ? { ...head, customer } : head);
  if (containers || volume || portion) add({ containers, volume, portion });
  // Rows and results as they are stored, in order; what was taken away by an undo is not on the sheet.
  const rows =
    sql`SELECT r.ordinal, r.id, r.label, r.note, r.stage_x, r.stage_y, r.stage_square, r.elsewhere_json,
    r.struck_at, r.struck_by, r.struck_reason,
      m.dimension, ${ENTRY} AS entry, m.left_typed, m.right_typed, m.direct_typed, m.repeats_json,
      ms.train_id, mc.calibration_id,
      m.divisions_text, m.size_um, m.size_standard_um, m.size_degrees_of_freedom, m.size_coverage_factor,
      m.size_expanded_um, m.size_shown, m.size_shown_uncertainty, m.missing, m.flags_json, m.entered_at,
      ms.entered_by
    FROM specimen_row r LEFT JOIN measurement m ON m.row_key = r.key
      LEFT JOIN measurement_source ms ON ms.id = m.source LEFT JOIN measurement_calibration mc ON mc.id = m.calibration
    WHERE r.sheet_id = ${sheetId} AND r.undone_at IS NULL ORDER BY r.ordinal, m.dimension`.each(db);
  for (const { stage_square: square, elsewhere_json: elsewhere, ...row } of rows) {
    add({ ...row, ...(square === null ? {} : { square }), ...(elsewhere === null ? {} : { elsewhere }) });
  }
  return hash.digest("hex");
}
