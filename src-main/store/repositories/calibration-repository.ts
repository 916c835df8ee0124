import {
  CalibrationRecord,
  type CalibrationState,
  CalibrationSummary,
} from "#core/contract/records/calibration.ts";
import type { CalibrationSearch } from "#core/contract/records/list-search.ts";
import { all, insert, one, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";
import { calibrationsWhere } from "./list-search.ts";

const COLUMNS = `id, train_id AS "trainId", stage_micrometer_id AS "stageMicrometerId",
  certificate_id AS "certificateId", person_id AS "personId", state, started_at AS "startedAt",
  settings_json AS settings, conditions_json AS conditions, estimator, coverage, remark, result_json AS result,
  due_on AS "dueOn", in_force_at AS "inForceAt", in_force_by AS "inForceBy", ended_at AS "endedAt",
  ended_by AS "endedBy", end_reason AS "endReason"`;

function jsonOf(text: unknown): unknown {
  return text === null ? null : JSON.parse(String(text));
}

function calibrationOf(row: Row): CalibrationRecord {
  return CalibrationRecord.parse({
    ...row,
    settings: jsonOf(row.settings),
    conditions: jsonOf(row.conditions),
    result: jsonOf(row.result),
  });
}

export function findCalibration(db: ReadableDb, id: string): CalibrationRecord | null {
  const row = one(db, `SELECT ${COLUMNS} FROM calibration WHERE id = ?`, id);
  return row ? calibrationOf(row) : null;
}

/** Newest first. */
export function listCalibrations(db: ReadableDb): CalibrationRecord[] {
  return all(db, `SELECT ${COLUMNS} FROM calibration ORDER BY started_at DESC, rowid DESC`).map(
    calibrationOf,
  );
}

const SUMMARY = `SELECT id, train_id AS "trainId", stage_micrometer_id AS "stageMicrometerId",
  certificate_id AS "certificateId", state, started_at AS "startedAt", due_on AS "dueOn",
  in_force_at AS "inForceAt", json_array_length(settings_json) AS settings,
  json_extract(result_json, '$.shownFactor') AS "shownFactor",
  json_extract(result_json, '$.shownUncertainty') AS "shownUncertainty"
  FROM calibration`;

/** Newest first, `count` of them from place `from`; in any state when null. */
export function calibrationSummaries(
  db: ReadableDb,
  state: CalibrationState | null,
  from: number,
  count: number,
  search?: CalibrationSearch,
): CalibrationSummary[] {
  const { sql, bound } = calibrationsWhere(state, search);
  const page = `${SUMMARY} WHERE ${sql} ORDER BY started_at DESC, rowid DESC LIMIT ? OFFSET ?`;
  return all(db, page, ...bound, count, from).map((row) => CalibrationSummary.parse(row));
}

export function countCalibrations(
  db: ReadableDb,
  state: CalibrationState | null,
  search?: CalibrationSearch,
): number {
  const { sql, bound } = calibrationsWhere(state, search);
  const row = one(db, `SELECT COUNT(*) AS n FROM calibration WHERE ${sql}`, ...bound);
  return Number(row?.n);
}

export const CALIBRATIONS_OF_TRAIN = `SELECT ${COLUMNS} FROM calibration WHERE train_id = ?
  ORDER BY started_at DESC, rowid DESC`;

/** Newest first. */
export function calibrationsOfTrain(db: ReadableDb, trainId: string): CalibrationRecord[] {
  return all(db, CALIBRATIONS_OF_TRAIN, trainId).map(calibrationOf);
}

export const CALIBRATION_IN_FORCE = `SELECT ${COLUMNS} FROM calibration WHERE train_id = ? AND state = 'in force'`;

export function calibrationInForce(db: ReadableDb, trainId: string): CalibrationRecord | null {
  const row = one(db, CALIBRATION_IN_FORCE, trainId);
  return row ? calibrationOf(row) : null;
}

/** The factor the train had before an instant: of those put in force earlier and not withdrawn, the last. */
export function calibrationBefore(
  db: ReadableDb,
  trainId: string,
  instant: string,
  exceptId: string,
): CalibrationRecord | null {
  const row = one(
    db,
    `SELECT ${COLUMNS} FROM calibration
     WHERE train_id = ? AND state IN ('in force', 'superseded') AND in_force_at <= ? AND id <> ?
       AND id NOT IN (SELECT from_calibration_id FROM calibration_recalculation WHERE calibration_id = ?)
     ORDER BY in_force_at DESC, rowid DESC LIMIT 1`,
    trainId,
    instant,
    exceptId,
    exceptId,
  );
  return row ? calibrationOf(row) : null;
}

export function findOpenDraft(
  db: ReadableDb,
  of: Pick<CalibrationRecord, "trainId" | "stageMicrometerId" | "certificateId">,
): CalibrationRecord | null {
  const row = one(
    db,
    `SELECT ${COLUMNS} FROM calibration
     WHERE train_id = ? AND state = 'draft' AND stage_micrometer_id = ? AND certificate_id = ?
     ORDER BY started_at DESC LIMIT 1`,
    of.trainId,
    of.stageMicrometerId,
    of.certificateId,
  );
  return row ? calibrationOf(row) : null;
}

/** Ids of every calibration, oldest first. */
export function calibrationIds(db: ReadableDb): string[] {
  return all(db, "SELECT id FROM calibration ORDER BY started_at, rowid").map((row) => String(row.id));
}

/** Those calibrations, in an order that a bench read from a file has too. */
export function calibrationsInOrder(db: ReadableDb, ids: readonly string[]): CalibrationRecord[] {
  return all(
    db,
    `SELECT ${COLUMNS} FROM calibration WHERE id IN (SELECT value FROM json_each(?))
     ORDER BY started_at, in_force_at, id`,
    JSON.stringify(ids),
  ).map(calibrationOf);
}

export function insertDraft(db: WritableDb, draft: CalibrationRecord): void {
  insert(db, "calibration", {
    id: draft.id,
    train_id: draft.trainId,
    stage_micrometer_id: draft.stageMicrometerId,
    certificate_id: draft.certificateId,
    person_id: draft.personId,
    state: "draft",
    started_at: draft.startedAt,
    settings_json: JSON.stringify(draft.settings),
    conditions_json: JSON.stringify(draft.conditions),
    estimator: draft.estimator,
    coverage: draft.coverage,
    remark: draft.remark,
  });
}

/** Inserts a calibration with the result and state it has: one recalculated from another, or read from a file. */
export function insertFrozen(db: WritableDb, record: CalibrationRecord): void {
  insert(db, "calibration", {
    id: record.id,
    train_id: record.trainId,
    stage_micrometer_id: record.stageMicrometerId,
    certificate_id: record.certificateId,
    person_id: record.personId,
    state: record.state,
    started_at: record.startedAt,
    settings_json: JSON.stringify(record.settings),
    conditions_json: JSON.stringify(record.conditions),
    estimator: record.estimator,
    coverage: record.coverage,
    remark: record.remark,
    result_json: JSON.stringify(record.result),
    due_on: record.dueOn,
    in_force_at: record.inForceAt,
    in_force_by: record.inForceBy,
    ended_at: record.endedAt,
    ended_by: record.endedBy,
    end_reason: record.endReason,
  });
}

/** Writes what was typed; only while the calibration is a draft. */
export function updateDraft(
  db: WritableDb,
  draft: Pick<CalibrationRecord, "id" | "settings" | "conditions" | "estimator" | "coverage" | "remark">,
): void {
  run(
    db,
    `UPDATE calibration SET settings_json = ?, conditions_json = ?, estimator = ?, coverage = ?, remark = ?
     WHERE id = ? AND state = 'draft'`,
    JSON.stringify(draft.settings),
    JSON.stringify(draft.conditions),
    draft.estimator,
    draft.coverage,
    draft.remark,
    draft.id,
  );
}

/** Freezes the result. The one in force before must have been ended: a unique index holds each train to one. */
export function freezeInForce(
  db: WritableDb,
  frozen: Pick<CalibrationRecord, "id" | "result" | "dueOn" | "inForceAt" | "inForceBy">,
): void {
  run(
    db,
    `UPDATE calibration SET state = 'in force', result_json = ?, due_on = ?, in_force_at = ?, in_force_by = ?
     WHERE id = ? AND state = 'draft'`,
    JSON.stringify(frozen.result),
    frozen.dueOn,
    frozen.inForceAt,
    frozen.inForceBy,
    frozen.id,
  );
}

export function endCalibration(
  db: WritableDb,
  id: string,
  end: {
    readonly state: "superseded" | "withdrawn";
    readonly at: string;
    readonly by: string;
    readonly reason: string;
  },
): void {
  run(
    db,
    "UPDATE calibration SET state = ?, ended_at = ?, ended_by = ?, end_reason = ? WHERE id = ?",
    end.state,
    end.at,
    end.by,
    end.reason,
    id,
  );
}
