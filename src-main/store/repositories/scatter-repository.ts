import type { EarlierScatter } from "#core/calibration/repeatability.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { ReadableDb } from "../connection.ts";
import { sql } from "../sql.ts";

/** Habits change: only the newest of a person's, or a bench's, calibrations speak for the next. */
const NEWEST = 50;

/** The scatter of the newest calibrations that were measured here and not withdrawn; of everybody when null. */
export function scattersOf(db: ReadableDb, personId: string | null): EarlierScatter[] {
  return sql`SELECT json_extract(result_json, '$.residualDeviation') AS deviation,
      (SELECT count(*) FROM json_each(settings_json) AS typed
        WHERE trim(json_extract(typed.value, '$.reticleRight')) <> '') AS settings
    FROM calibration
    WHERE result_json IS NOT NULL AND state IN ('in force', 'superseded')
    AND (${personId} IS NULL OR person_id = ${personId})
      AND id NOT IN (SELECT calibration_id FROM calibration_recalculation)
    ORDER BY in_force_at DESC, id LIMIT ${NEWEST}`
    .all(db)
    .map((row) => ({
      deviation: decimal(String(row.deviation)),
      settings: Number(row.settings),
    }));
}
