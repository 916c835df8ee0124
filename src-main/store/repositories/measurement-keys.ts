import { insert, one, type ReadableDb, type WritableDb } from "../connection.ts";

/*
 * Rows, trains with readers, and calibrations are named by numbers in the table of measurements, which has a line for
 * every reading. Joined to it, `m`, are its sources, `ms`, and calibrations, `mc`.
 */

/** After `measurement m`: what train, reader and calibration it names. */
export const MEASURED_WITH = `CROSS JOIN measurement_source ms ON ms.id = m.source
  LEFT JOIN measurement_calibration mc ON mc.id = m.calibration`;

/** Two edges, or divisions read directly. */
export const ENTRY = "CASE m.is_direct WHEN 1 THEN 'direct' WHEN 0 THEN 'two-edges' END";

/** The number of a row that `?` or a name stands for. */
export const keyOfRow = (parameter = "?"): string => `(SELECT key FROM specimen_row WHERE id = ${parameter})`;

/** The number of a calibration that was measured with; of none that was not. */
export const keyOfCalibration = (parameter = "?"): string =>
  `(SELECT id FROM measurement_calibration WHERE calibration_id = ${parameter})`;

/** The number of a train and a reader together. */
export function sourceKey(db: WritableDb, trainId: string, enteredBy: string): number {
  const find = (): number | undefined =>
    one(db, "SELECT id FROM measurement_source WHERE train_id = ? AND entered_by = ?", trainId, enteredBy)
      ?.id as number | undefined;
  const found = find();
  if (found !== undefined) return found;
  insert(db, "measurement_source", { train_id: trainId, entered_by: enteredBy });
  return Number(find());
}

function findCalibrationKey(db: ReadableDb, calibrationId: string): number | undefined {
  return one(db, `SELECT ${keyOfCalibration()} AS id`, calibrationId)?.id as number | undefined;
}

/** The number of a calibration; null for none. */
export function calibrationKey(db: WritableDb, calibrationId: string | null): number | null {
  if (calibrationId === null) return null;
  const found = findCalibrationKey(db, calibrationId) ?? null;
  if (found !== null) return found;
  insert(db, "measurement_calibration", { calibration_id: calibrationId });
  return Number(findCalibrationKey(db, calibrationId));
}
