import type { WritableDb } from "../connection.ts";
import { insert, type Query, sql } from "../sql.ts";

/*
 * Rows, trains with readers, and calibrations are named by numbers in the table of measurements, which has a line for
 * every reading. Joined to it, `m`, are its sources, `ms`, and calibrations, `mc`.
 */

/** After `measurement m`: what train, reader and calibration it names. */
export const MEASURED_WITH = sql`CROSS JOIN measurement_source ms ON ms.id = m.source
  LEFT JOIN measurement_calibration mc ON mc.id = m.calibration`;

/** Two edges, or divisions read directly. */
export const ENTRY = sql`CASE m.is_direct WHEN 1 THEN 'direct' WHEN 0 THEN 'two-edges' END`;

/** The number of a row. */
export const keyOfRow = (id: string): Query => sql`(SELECT key FROM specimen_row WHERE id = ${id})`;

/** The number of a calibration that was measured with; of none that was not. */
export const keyOfCalibration = (id: string): Query =>
  sql`(SELECT id FROM measurement_calibration WHERE calibration_id = ${id})`;

/** The number of a train and a reader together. */
export function sourceKey(db: WritableDb, trainId: string, enteredBy: string): number {
  const source = sql`SELECT id FROM measurement_source WHERE train_id = ${trainId}
    AND entered_by = ${enteredBy}`;
  const found = source.number(db);
  if (found > 0) return found;
  insert(db, "measurement_source", { train_id: trainId, entered_by: enteredBy });
  return source.number(db);
}

/** The number of a calibration; null for none. */
export function calibrationKey(db: WritableDb, calibrationId: string | null): number | null {
  if (calibrationId === null) return null;
  const key = sql`SELECT id FROM measurement_calibration WHERE calibration_id = ${calibrationId}`;
  const found = key.number(db);
  if (found > 0) return found;
  insert(db, "measurement_calibration", { calibration_id: calibrationId });
  return key.number(db);
}
