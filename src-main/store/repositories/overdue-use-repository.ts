import { OverdueUse, type OverdueWork } from "#core/contract/records/overdue-use.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

const SELECT = sql`SELECT id, work, work_id AS "workId", calibration_id AS "calibrationId",
  calibration_due_on AS "calibrationDueOn", certificate_due_on AS "certificateDueOn", reason, at, by FROM overdue_use`;

/** In the order in which they were said. */
export function listOverdueUses(db: ReadableDb): OverdueUse[] {
  return sql`${SELECT} ORDER BY rowid`.all(db, OverdueUse);
}

/** Of one piece of work, oldest first. */
export function overdueUsesOf(db: ReadableDb, { work, workId }: OverdueWork): OverdueUse[] {
  return sql`${SELECT} WHERE work_id = ${workId} AND work = ${work} ORDER BY rowid`.all(db, OverdueUse);
}

export function findOverdueUse(db: ReadableDb, id: string): OverdueUse | null {
  return sql`${SELECT} WHERE id = ${id}`.one(db, OverdueUse);
}

export function insertOverdueUse(db: WritableDb, use: OverdueUse): void {
  insert(db, "overdue_use", {
    id: use.id,
    work: use.work,
    work_id: use.workId,
    calibration_id: use.calibrationId,
    calibration_due_on: use.calibrationDueOn,
    certificate_due_on: use.certificateDueOn,
    reason: use.reason,
    at: use.at,
    by: use.by,
  });
}
