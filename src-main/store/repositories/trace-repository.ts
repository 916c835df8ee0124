import { all, one, type ReadableDb } from "../connection.ts";

/** The calibrations with a result that a subject reaches, oldest first. */
const CALIBRATIONS = {
  certificate: "certificate_id = :id",
  "stage micrometer": "stage_micrometer_id = :id",
  microscope: "train_id IN (SELECT id FROM optical_train WHERE microscope_id = :id)",
  objective: "train_id IN (SELECT id FROM optical_train WHERE objective_id = :id)",
  reticle: "train_id IN (SELECT id FROM optical_train WHERE reticle_id = :id)",
  calibration: "id = :id",
  event: "train_id IN (SELECT train_id FROM equipment_event_train WHERE event_id = :id)",
} as const;

export function calibrationIdsReached(db: ReadableDb, kind: keyof typeof CALIBRATIONS, id: string): string[] {
  return all(
    db,
    `SELECT id FROM calibration WHERE ${CALIBRATIONS[kind]} AND result_json IS NOT NULL ORDER BY started_at, rowid`,
    { id },
  ).map((row) => String(row.id));
}

/** Results of a sheet by calibration, of rows `from`…`to` by ordinal and entered within the window. */
export interface TouchWindow {
  readonly sheetId: string;
  readonly from: number;
  readonly to: number;
  readonly calibrationIds: readonly string[];
  /** Instants: at or after, before. */
  readonly notBefore: string;
  readonly before: string;
}

/** A result that stands: not struck, not taken away by an undo. */
export const IS_CURRENT = "m.size_um IS NOT NULL AND r.struck_at IS NULL AND r.undone_at IS NULL";

const TOUCHED = `FROM specimen_row r CROSS JOIN measurement m ON m.row_key = r.key
  CROSS JOIN measurement_calibration mc ON mc.id = m.calibration
  WHERE r.sheet_id = ? AND r.ordinal BETWEEN ? AND ? AND ${IS_CURRENT}
    AND m.entered_at >= ? AND m.entered_at < ? AND mc.calibration_id IN (SELECT value FROM json_each(?))`;

export interface TouchCount {
  readonly calibrationId: string;
  readonly results: number;
  readonly firstAt: string;
  readonly lastAt: string;
}

export function touchedResults(db: ReadableDb, window: TouchWindow): { rows: number; counts: TouchCount[] } {
  const bound = [
    window.sheetId,
    window.from,
    window.to,
    window.notBefore,
    window.before,
    JSON.stringify(window.calibrationIds),
  ] as const;
  const counts = all(
    db,
    `SELECT mc.calibration_id AS "calibrationId", count(*) AS results, min(m.entered_at) AS "firstAt",
       max(m.entered_at) AS "lastAt" ${TOUCHED} GROUP BY mc.calibration_id`,
    ...bound,
  ) as unknown as TouchCount[];
  if (counts.length === 0) return { rows: 0, counts };
  const row = one(db, `SELECT count(DISTINCT r.id) AS n ${TOUCHED}`, ...bound);
  return { rows: Number(row?.n ?? 0), counts };
}
