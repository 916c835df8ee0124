import { KeptAssessment } from "#core/contract/records/assessment.ts";
import { all, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";

function keptOf({ assessment, at, by, reason }: Row): KeptAssessment {
  return KeptAssessment.parse({ ...JSON.parse(String(assessment)), at, by, reason });
}

const COLUMNS = "assessment_json AS assessment, at, by, reason";

/** Newest first. */
export function assessmentsOf(db: ReadableDb, calibrationId: string): KeptAssessment[] {
  return all(
    db,
    `SELECT ${COLUMNS} FROM calibration_assessment WHERE calibration_id = ? ORDER BY ordinal DESC`,
    calibrationId,
  ).map(keptOf);
}

/** Of every calibration, oldest first, with the place of each in its row. */
export function listAssessments(
  db: ReadableDb,
): { readonly calibrationId: string; readonly ordinal: number; readonly assessment: KeptAssessment }[] {
  return all(
    db,
    `SELECT calibration_id AS "calibrationId", ordinal, ${COLUMNS} FROM calibration_assessment
     ORDER BY calibration_id, ordinal`,
  ).map((row) => ({
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
  run(
    db,
    `INSERT INTO calibration_assessment (calibration_id, ordinal, assessment_json, at, by, reason)
     SELECT ?, 1 + count(*), ?, ?, ?, ? FROM calibration_assessment WHERE calibration_id = ?`,
    calibrationId,
    JSON.stringify(assessment),
    at,
    by,
    reason,
    calibrationId,
  );
}
