import { columns } from "../columns.ts";
import type { ReadableDb } from "../connection.ts";
import { firstText, type Query, sql } from "../sql.ts";

/** The calibrations with a result that a subject reaches, oldest first. */
const CALIBRATIONS = {
  certificate: (id: string) => sql`certificate_id = ${id}`,
  "stage micrometer": (id: string) => sql`stage_micrometer_id = ${id}`,
  microscope: (id: string) => sql`train_id IN (SELECT id FROM optical_train WHERE microscope_id = ${id})`,
  objective: (id: string) => sql`train_id IN (SELECT id FROM optical_train WHERE objective_id = ${id})`,
  reticle: (id: string) => sql`train_id IN (SELECT id FROM optical_train WHERE reticle_id = ${id})`,
  calibration: (id: string) => sql`id = ${id}`,
  event: (id: string) => sql`train_id IN (SELECT train_id FROM equipment_event_train WHERE event_id = ${id})`,
} as const;

export function calibrationIdsReached(db: ReadableDb, kind: keyof typeof CALIBRATIONS, id: string): string[] {
  return sql`SELECT id FROM calibration
    WHERE ${CALIBRATIONS[kind](id)} AND result_json IS NOT NULL
    ORDER BY started_at, rowid`.all(db, firstText);
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
export const IS_CURRENT = sql`m.size_um IS NOT NULL AND r.struck_at IS NULL AND r.undone_at IS NULL`;

const touchedIn = (window: TouchWindow): Query => sql`FROM specimen_row r
  CROSS JOIN measurement m ON m.row_key = r.key CROSS JOIN measurement_calibration mc ON mc.id = m.calibration
  WHERE r.sheet_id = ${window.sheetId} AND r.ordinal BETWEEN ${window.from} AND ${window.to} AND ${IS_CURRENT}
    AND m.entered_at >= ${window.notBefore} AND m.entered_at < ${window.before}
    AND mc.calibration_id IN (SELECT value FROM json_each(${JSON.stringify(window.calibrationIds)}))`;

export type TouchCount = ReturnType<typeof touchCountOf>;
const touchCountOf = columns({ calibrationId: "text", results: "number", firstAt: "text", lastAt: "text" });

export function touchedResults(db: ReadableDb, window: TouchWindow): { rows: number; counts: TouchCount[] } {
  const touched = touchedIn(window);
  const counts =
    sql`SELECT mc.calibration_id AS "calibrationId", count(*) AS results, min(m.entered_at) AS "firstAt",
      max(m.entered_at) AS "lastAt" ${touched} GROUP BY mc.calibration_id`.all(db, touchCountOf);
  if (counts.length === 0) return { rows: 0, counts };
  return { rows: sql`SELECT count(DISTINCT r.id) ${touched}`.number(db), counts };
}
