import { CheckRecord, type CheckWithdrawal } from "#core/contract/records/check.ts";
import { all, insert, one, type ReadableDb, type Row, type WritableDb } from "../connection.ts";

/** Of a check that counts: a withdrawn one stays to be read and counts for nothing. */
export const NOT_WITHDRAWN = "id NOT IN (SELECT check_id FROM calibration_check_withdrawal)";

const COLUMNS = `id, train_id AS "trainId", calibration_id AS "calibrationId",
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
  const order = "ORDER BY checked_at DESC, rowid DESC";
  const rows =
    trainId === null
      ? all(db, `SELECT ${COLUMNS} FROM calibration_check ${order}`)
      : all(db, `SELECT ${COLUMNS} FROM calibration_check WHERE train_id = ? ${order}`, trainId);
  return rows.map(checkOf);
}

export function findCheck(db: ReadableDb, id: string): CheckRecord | null {
  const row = one(db, `SELECT ${COLUMNS} FROM calibration_check WHERE id = ?`, id);
  return row ? checkOf(row) : null;
}

/** The checks made against one calibration, newest first. */
export function checksOfCalibration(db: ReadableDb, calibrationId: string): CheckRecord[] {
  return all(
    db,
    `SELECT ${COLUMNS} FROM calibration_check
     WHERE train_id = (SELECT train_id FROM calibration WHERE id = ?) AND calibration_id = ?
     ORDER BY checked_at DESC, rowid DESC`,
    calibrationId,
    calibrationId,
  ).map(checkOf);
}

/** Later than every instant of a bench. */
export const NOW_AND_ALWAYS = "9999-12-31T23:59:59.999Z";

/** When and how a train was last checked up to an instant, by a check that counts; null: never. */
export function lastCheck(
  db: ReadableDb,
  trainId: string,
  until = NOW_AND_ALWAYS,
): { at: string; passed: boolean } | null {
  const row = one(
    db,
    `SELECT checked_at, passed FROM calibration_check WHERE train_id = ? AND checked_at <= ? AND ${NOT_WITHDRAWN}
     ORDER BY checked_at DESC, rowid DESC LIMIT 1`,
    trainId,
    until,
  );
  return row ? { at: String(row.checked_at), passed: row.passed === 1 } : null;
}

/** When a train last passed a check that counts, up to an instant; null: never. */
export function lastPassedCheck(db: ReadableDb, trainId: string, until = NOW_AND_ALWAYS): string | null {
  const row = one(
    db,
    `SELECT max(checked_at) AS at FROM calibration_check
     WHERE train_id = ? AND passed = 1 AND checked_at <= ? AND ${NOT_WITHDRAWN}`,
    trainId,
    until,
  );
  return row?.at ? String(row.at) : null;
}

/** Checks whose column says another thing of their having passed than their result does. */
export function checksWronglyPassed(db: ReadableDb): string[] {
  return all(db, "SELECT id FROM calibration_check WHERE passed <> (result_json ->> '$.passed')").map(
    ({ id }) => String(id),
  );
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
