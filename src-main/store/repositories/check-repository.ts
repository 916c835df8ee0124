import { CheckRecord, type CheckWithdrawal } from "#core/contract/records/check.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { firstText, insert, sql } from "../sql.ts";

/** Of a check that counts: a withdrawn one stays to be read and counts for nothing. */
export const NOT_WITHDRAWN = sql`id NOT IN (SELECT check_id FROM calibration_check_withdrawal)`;

const COLUMNS = sql`id, train_id AS "trainId", calibration_id AS "calibrationId",
  stage_micrometer_id AS "stageMicrometerId", certificate_id AS "certificateId", settings_json AS settings,
  temperature_typed AS temperature, remark, result_json AS result, checked_at AS "checkedAt",
  checked_by AS "checkedBy", (SELECT json_object('at', w.at, 'by', w.by, 'reason', w.reason)
    FROM calibration_check_withdrawal w WHERE w.check_id = calibration_check.id) AS withdrawn`;

function checkOf(row: Row): CheckRecord {
  return CheckRecord.parse({
    ...row,
    settings: JSON.parse(String(row.settings)),
    result: JSON.parse(String(row.result)),
    withdrawn: row.withdrawn === null ? null : JSON.parse(String(row.withdrawn)),
  });
}

/** Newest first; of one train, or all. */
export function listChecks(db: ReadableDb, trainId: string | null): CheckRecord[] {
  const which = trainId === null ? sql`` : sql`WHERE train_id = ${trainId}`;
  return sql`SELECT ${COLUMNS} FROM calibration_check ${which}
    ORDER BY checked_at DESC, rowid DESC`.all(db, checkOf);
}

export function findCheck(db: ReadableDb, id: string): CheckRecord | null {
  return sql`SELECT ${COLUMNS} FROM calibration_check WHERE id = ${id}`.one(db, checkOf);
}

/** The checks made against one calibration, newest first. */
export function checksOfCalibration(db: ReadableDb, calibrationId: string): CheckRecord[] {
  return sql`SELECT ${COLUMNS} FROM calibration_check
    WHERE train_id = (SELECT train_id FROM calibration WHERE id = ${calibrationId})
      AND calibration_id = ${calibrationId}
    ORDER BY checked_at DESC, rowid DESC`.all(db, checkOf);
}

/** Later than every instant of a bench. */
export const NOW_AND_ALWAYS = "9999-12-31T23:59:59.999Z";

/** When and how a train was last checked up to an instant, by a check that counts; null: never. */
export function lastCheck(
  db: ReadableDb,
  trainId: string,
  until = NOW_AND_ALWAYS,
): { at: string; passed: boolean } | null {
  return sql`SELECT checked_at, passed FROM calibration_check
    WHERE train_id = ${trainId} AND checked_at <= ${until} AND ${NOT_WITHDRAWN}
    ORDER BY checked_at DESC, rowid DESC LIMIT 1`.one(db, (row) => ({
    at: String(row.checked_at),
    passed: row.passed === 1,
  }));
}

/** When a train last passed a check that counts, up to an instant; null: never. */
export function lastPassedCheck(db: ReadableDb, trainId: string, until = NOW_AND_ALWAYS): string | null {
  const row = sql`SELECT max(checked_at) AS at FROM calibration_check
    WHERE train_id = ${trainId} AND passed = 1 AND checked_at <= ${until} AND ${NOT_WITHDRAWN}`.one(db);
  return row?.at ? String(row.at) : null;
}

/** Checks whose column says another thing of their having passed than their result does. */
export function checksWronglyPassed(db: ReadableDb): string[] {
  return sql`SELECT id FROM calibration_check
    WHERE passed <> (result_json ->> '$.passed')`.all(db, firstText);
}

export function insertCheck(db: WritableDb, check: CheckRecord): void {
  insert(db, "calibration_check", {
    id: check.id,
    train_id: check.trainId,
    calibration_id: check.calibrationId,
    stage_micrometer_id: check.stageMicrometerId,
    certificate_id: check.certificateId,
    settings_json: JSON.stringify(check.settings),
    temperature_typed: check.temperature,
    remark: check.remark,
    result_json: JSON.stringify(check.result),
    passed: check.result.passed ? 1 : 0,
    checked_at: check.checkedAt,
    checked_by: check.checkedBy,
  });
}

export function insertWithdrawal(db: WritableDb, checkId: string, { at, by, reason }: CheckWithdrawal): void {
  insert(db, "calibration_check_withdrawal", { check_id: checkId, at, by, reason });
}
