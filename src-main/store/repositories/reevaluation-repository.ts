import { Reevaluation } from "#core/contract/records/reevaluation.ts";
import { columns } from "../columns.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { firstText, insert, sql } from "../sql.ts";

/** Where the work stands: which swap, and the last result of it that is done. */
export interface ReevaluationCursor {
  readonly swap: number;
  readonly rowId: string;
  readonly dimension: string;
}

export const BEGINNING: ReevaluationCursor = { swap: 0, rowId: "", dimension: "" };

const COLUMNS = sql`id, scope_json AS scope, swaps_json AS swaps, reason, state, total, done,
  reopened_sheets AS "reopenedSheets", started_at AS "startedAt", started_by AS "startedBy",
  finished_at AS "finishedAt", trouble`;

function reevaluationOf({ scope, swaps, ...row }: Row): Reevaluation {
  return Reevaluation.parse({ ...JSON.parse(String(scope)), ...row, swaps: JSON.parse(String(swaps)) });
}

/** Newest first. */
export function listReevaluations(db: ReadableDb): Reevaluation[] {
  return sql`SELECT ${COLUMNS} FROM reevaluation ORDER BY rowid DESC`.all(db, reevaluationOf);
}

export function findReevaluation(db: ReadableDb, id: string): Reevaluation | null {
  return sql`SELECT ${COLUMNS} FROM reevaluation WHERE id = ${id}`.one(db, reevaluationOf);
}

export function cursorOf(db: ReadableDb, id: string): ReevaluationCursor {
  const row = sql`SELECT cursor_json FROM reevaluation WHERE id = ${id}`.one(db);
  return typeof row?.cursor_json === "string" ? JSON.parse(row.cursor_json) : BEGINNING;
}

/** The one under way; null: none. */
export function runningReevaluation(db: ReadableDb): string | null {
  return sql`SELECT id FROM reevaluation WHERE state = 'running'`.one(db, firstText);
}

export function insertReevaluation(db: WritableDb, reevaluation: Reevaluation): void {
  const { subject, from, to, sheetIds, replacement } = reevaluation;
  insert(db, "reevaluation", {
    id: reevaluation.id,
    scope_json: JSON.stringify({ subject, from, to, sheetIds, replacement }),
    swaps_json: JSON.stringify(reevaluation.swaps),
    reason: reevaluation.reason,
    state: reevaluation.state,
    total: reevaluation.total,
    done: 0,
    reopened_sheets: 0,
    started_at: reevaluation.startedAt,
    started_by: reevaluation.startedBy,
  });
}

export function setReevaluationState(
  db: WritableDb,
  id: string,
  state: Reevaluation["state"],
  { finishedAt = null, trouble = null }: { finishedAt?: string | null; trouble?: string | null } = {},
): void {
  sql`UPDATE reevaluation SET state = ${state}, finished_at = ${finishedAt}, trouble = ${trouble}
    WHERE id = ${id}`.run(db);
}

export function keepProgress(
  db: WritableDb,
  id: string,
  progress: { readonly cursor: ReevaluationCursor; readonly done: number; readonly reopened: number },
): void {
  sql`UPDATE reevaluation SET cursor_json = ${JSON.stringify(progress.cursor)},
    done = done + ${progress.done},
    reopened_sheets = reopened_sheets + ${progress.reopened} WHERE id = ${id}`.run(db);
}

export type ReevaluationSlice = ReturnType<typeof sliceOf>;
const sliceOf = columns({
  reevaluationId: "text",
  ordinal: "number",
  auditSequence: "number",
  firstSupersededId: "number",
  lastSupersededId: "number",
  fromCalibrationId: "text",
  toCalibrationId: "text",
  sha256: "text",
});

const SLICE = sql`reevaluation_id AS "reevaluationId", ordinal, audit_sequence AS "auditSequence",
  first_superseded_id AS "firstSupersededId", last_superseded_id AS "lastSupersededId",
  from_calibration_id AS "fromCalibrationId", to_calibration_id AS "toCalibrationId", sha256`;

export function nextSliceOrdinal(db: ReadableDb, reevaluationId: string): number {
  return sql`SELECT coalesce(max(ordinal), 0) + 1 FROM reevaluation_slice
    WHERE reevaluation_id = ${reevaluationId}`.number(db);
}

export function insertSlice(db: WritableDb, slice: ReevaluationSlice): void {
  insert(db, "reevaluation_slice", {
    reevaluation_id: slice.reevaluationId,
    ordinal: slice.ordinal,
    audit_sequence: slice.auditSequence,
    first_superseded_id: slice.firstSupersededId,
    last_superseded_id: slice.lastSupersededId,
    from_calibration_id: slice.fromCalibrationId,
    to_calibration_id: slice.toCalibrationId,
    sha256: slice.sha256,
  });
}

export function listSlices(db: ReadableDb): ReevaluationSlice[] {
  return sql`SELECT ${SLICE} FROM reevaluation_slice ORDER BY audit_sequence`.all(db, sliceOf);
}

/** What re-evaluations did to a row: from which line of the trail on, which dimension has which calibration. */
export type ReevaluatedDimension = ReturnType<typeof reevaluatedOf>;
const reevaluatedOf = columns({
  rowId: "text",
  sequence: "number",
  dimension: "text",
  calibrationId: "text",
});

/** By row, oldest first; rows that none has reached are left out. */
export function reevaluationsOfRows(
  db: ReadableDb,
  rowIds: readonly string[],
): Map<string, ReevaluatedDimension[]> {
  const found = sql`SELECT s.row_id AS "rowId", l.audit_sequence AS sequence, s.dimension,
    l.to_calibration_id AS "calibrationId"
    FROM json_each(${JSON.stringify(rowIds)}) j CROSS JOIN superseded_measurement s ON s.row_id = j.value
      JOIN reevaluation_slice l ON l.first_superseded_id =
      (SELECT max(first_superseded_id) FROM reevaluation_slice WHERE first_superseded_id <= s.id)
    WHERE s.act = 'reevaluations.slice' ORDER BY s.id`.all(db, reevaluatedOf);
  return Map.groupBy(found, ({ rowId }) => rowId);
}
