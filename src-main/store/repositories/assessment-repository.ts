import { KeptAssessment } from "#core/contract/records/assessment.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

function keptOf({ assessment, at, by, reason }: Row): KeptAssessment {
  return KeptAssessment.parse({ ...JSON.parse(String(assessment)), at, by, reason });
}

const COLUMNS = sql`assessment_json AS assessment, at, by, reason`;

/** Newest first. */
export function assessmentsOf(db: ReadableDb, calibrationId: string): KeptAssessment[] {
  return sql`SELECT ${COLUMNS} FROM calibration_assessment
    WHERE calibration_id = ${calibrationId} ORDER BY ordinal DESC`.all(db, keptOf);
}

/** Of every calibration, oldest first, with the place of each in its row. */
export function listAssessments(
  db: ReadableDb,
): { readonly calibrationId: string; readonly ordinal: number; readonly assessment: KeptAssessment }[] {
  return sql`SELECT calibration_id AS "calibrationId", ordinal, ${COLUMNS} FROM calibration_assessment
    ORDER BY calibration_id, ordinal`
    .all(db)
    .map((row) => ({
      calibrationId: String(row.calibrationId),
      ordinal: Number(row.ordinal),
      assessment: keptOf(row),
    }));
}

export function insertAssessment(
  db: WritableDb,
  calibrationId: string,
  { at, by, reason, ...assessment }: KeptAssessment,
): void {
  insert(db, "calibration_assessment", {
    calibration_id: calibrationId,
    ordinal: sql`(SELECT 1 + count(*) FROM calibration_assessment WHERE calibration_id = ${calibrationId})`,
    assessment_json: JSON.stringify(assessment),
    at,
    by,
    reason,
  });
}
