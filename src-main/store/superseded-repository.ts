import { type Measurement, SupersededMeasurement } from "#core/contract/records/sheet.ts";
import { all, type ReadableDb, run, type WritableDb } from "./connection.ts";

/** Why and by whose act a result was replaced. */
export interface SupersededBy {
  readonly at: string;
  readonly by: string;
  readonly act: string;
  readonly reason: string | null;
}

/** Keeps a result, whole, that is about to be replaced or taken away. */
export function keepSuperseded(
  db: WritableDb,
  rowId: string,
  measurement: Measurement,
  { at, by, act, reason }: SupersededBy,
): void {
  run(
    db,
    `INSERT INTO superseded_measurement (row_id, dimension, calibration_id, size_um, measurement_json, at, by, act,
       reason) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    rowId,
    measurement.dimension,
    measurement.calibrationId,
    measurement.size?.value ?? null,
    JSON.stringify(measurement),
    at,
    by,
    act,
    reason,
  );
}

/** Oldest first. */
export function supersededOfRow(db: ReadableDb, rowId: string): SupersededMeasurement[] {
  return all(
    db,
    `SELECT measurement_json AS measurement, at, by, act, reason FROM superseded_measurement
     WHERE row_id = ? ORDER BY id`,
    rowId,
  ).map(({ measurement, ...row }) =>
    SupersededMeasurement.parse({ ...row, measurement: JSON.parse(String(measurement)) }),
  );
}
