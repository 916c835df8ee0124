import {
  CalibrationRecord,
  type CalibrationState,
  CalibrationSummary,
} from "#core/contract/records/calibration.ts";
import type { CalibrationSearch } from "#core/contract/records/list-search.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { firstText, insert, type Query, sql } from "../sql.ts";
import { calibrationsWhere } from "./list-search.ts";

const COLUMNS = sql`id, train_id AS "trainId", stage_micrometer_id AS "stageMicrometerId",
  certificate_id AS "certificateId", person_id AS "personId", state, started_at AS "startedAt",
  settings_json AS settings, conditions_json AS conditions, estimator, coverage, remark,
  result_json AS result,
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
  return sql`SELECT ${COLUMNS} FROM calibration WHERE id = ${id}`.one(db, calibrationOf);
}

/** Newest first. */
export function listCalibrations(db: ReadableDb): CalibrationRecord[] {
  return sql`SELECT ${COLUMNS} FROM calibration ORDER BY started_at DESC, rowid DESC`.all(db, calibrationOf);
}

const SUMMARY = sql`SELECT id, train_id AS "trainId", stage_micrometer_id AS "stageMicrometerId",
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
  const found = sql`${SUMMARY} WHERE ${calibrationsWhere(state, search)}`;
  const page = sql`${found} ORDER BY started_at DESC, rowid DESC LIMIT ${count} OFFSET ${from}`;
  return page.all(db, CalibrationSummary);
}

export function countCalibrations(
  db: ReadableDb,
  state: CalibrationState | null,
  search?: CalibrationSearch,
): number {
  return sql`SELECT count(*) FROM calibration WHERE ${calibrationsWhere(state, search)}`.number(db);
}

export const ofTrain = (trainId: string): Query =>
  sql`SELECT ${COLUMNS} FROM calibration WHERE train_id = ${trainId} ORDER BY started_at DESC, rowid DESC`;

/** Newest first. */
export function calibrationsOfTrain(db: ReadableDb, trainId: string): CalibrationRecord[] {
  return ofTrain(trainId).all(db, calibrationOf);
}

export const inForceOf = (trainId: string): Query =>
  sql`SELECT ${COLUMNS} FROM calibration WHERE train_id = ${trainId} AND state = 'in force'`;

export function calibrationInForce(db: ReadableDb, trainId: string): CalibrationRecord | null {
  return inForceOf(trainId).one(db, calibrationOf);
}

/** The factor the train had before an instant: of those put in force earlier and not withdrawn, the last. */
export function calibrationBefore(
  db: ReadableDb,
  trainId: string,
  instant: string,
  exceptId: string,
): CalibrationRecord | null {
  return sql`SELECT ${COLUMNS} FROM calibration
    WHERE train_id = ${trainId} AND state IN ('in force', 'superseded') AND in_force_at <= ${instant}
    AND id <> ${exceptId}
      AND id NOT IN (SELECT from_calibration_id FROM calibration_recalculation WHERE calibration_id = ${exceptId})
    ORDER BY in_force_at DESC, rowid DESC LIMIT 1`.one(db, calibrationOf);
}

export function findOpenDraft(
  db: ReadableDb,
  of: Pick<CalibrationRecord, "trainId" | "stageMicrometerId" | "certificateId">,
): CalibrationRecord | null {
  return sql`SELECT ${COLUMNS} FROM calibration
    WHERE train_id = ${of.trainId} AND state = 'draft' AND stage_micrometer_id = ${of.stageMicrometerId}
    AND certificate_id = ${of.certificateId}
    ORDER BY started_at DESC LIMIT 1`.one(db, calibrationOf);
}

/** Ids of every calibration, oldest first. */
export function calibrationIds(db: ReadableDb): string[] {
  return sql`SELECT id FROM calibration ORDER BY started_at, rowid`.all(db, firstText);
}

/** Those calibrations, in an order that a bench read from a file has too. */
export function calibrationsInOrder(db: ReadableDb, ids: readonly string[]): CalibrationRecord[] {
  return sql`SELECT ${COLUMNS} FROM calibration
    WHERE id IN (SELECT value FROM json_each(${JSON.stringify(ids)}))
    ORDER BY started_at, in_force_at, id`.all(db, calibrationOf);
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
  sql`UPDATE calibration SET settings_json = ${JSON.stringify(draft.settings)},
    conditions_json = ${JSON.stringify(draft.conditions)}, estimator = ${draft.estimator},
    coverage = ${draft.coverage}, remark = ${draft.remark}
    WHERE id = ${draft.id} AND state = 'draft'`.run(db);
}

/** Freezes the result. The one in force before must have been ended: a unique index holds each train to one. */
export function freezeInForce(
  db: WritableDb,
  frozen: Pick<CalibrationRecord, "id" | "result" | "dueOn" | "inForceAt" | "inForceBy">,
): void {
  sql`UPDATE calibration SET state = 'in force',
    result_json = ${JSON.stringify(frozen.result)}, due_on = ${frozen.dueOn},
    in_force_at = ${frozen.inForceAt}, in_force_by = ${frozen.inForceBy}
    WHERE id = ${frozen.id} AND state = 'draft'`.run(db);
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
  sql`UPDATE calibration SET state = ${end.state}, ended_at = ${end.at}, ended_by = ${end.by},
    end_reason = ${end.reason} WHERE id = ${id}`.run(db);
}
