import { Recount, type RecountReport } from "#core/contract/records/recount.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { firstText, insert, sql } from "../sql.ts";
import { countNumber } from "./count-repository.ts";

const RECOUNT = sql`SELECT r.id, r.tally_id AS "countId", t.ordinal, t.sample, r.kind, r.share,
  r.fields_json AS fields,
  r.planned_at AS "plannedAt", r.planned_by AS "plannedBy", r.finished_at AS "finishedAt",
  r.finished_by AS "finishedBy", r.report_json AS report
  FROM recount r JOIN tally t ON t.id = r.tally_id`;

function entriesOf(db: ReadableDb, recountId: string): Row[] {
  return sql`SELECT field, counts_json AS counts, at, by_person AS by FROM recount_entry
    WHERE recount_id = ${recountId} ORDER BY field`.all(db, (row) => ({
    ...row,
    counts: JSON.parse(String(row.counts)),
  }));
}

function recountOf(db: ReadableDb, { ordinal, fields, report, ...row }: Row): Recount {
  return Recount.parse({
    ...row,
    countNumber: countNumber(Number(ordinal)),
    fields: JSON.parse(String(fields)),
    entries: entriesOf(db, String(row.id)),
    report: report === null ? null : JSON.parse(String(report)),
  });
}

export function findRecount(db: ReadableDb, id: string): Recount | null {
  return sql`${RECOUNT} WHERE r.id = ${id}`.one(db, (row) => recountOf(db, row));
}

/** Newest first; of one count, or of all. */
export function listRecounts(db: ReadableDb, countId: string | null): Recount[] {
  const rows =
    countId === null
      ? sql`${RECOUNT} ORDER BY r.planned_at DESC, r.rowid DESC`.all(db)
      : sql`${RECOUNT} WHERE r.tally_id = ${countId} ORDER BY r.planned_at DESC, r.rowid DESC`.all(db);
  return rows.map((row) => recountOf(db, row));
}

/** Recounts drawn together. */
export function recountsOfPlan(db: ReadableDb, planId: string): Recount[] {
  return sql`${RECOUNT} WHERE r.plan_id = ${planId} ORDER BY r.rowid`
    .all(db)
    .map((row) => recountOf(db, row));
}

/** With which others a recount was drawn. */
export function planOfRecount(db: ReadableDb, id: string): string | null {
  return sql`SELECT plan_id FROM recount WHERE id = ${id}`.one(db, firstText);
}

export function insertRecount(
  db: WritableDb,
  planId: string,
  recount: Pick<Recount, "id" | "countId" | "kind" | "share" | "fields" | "plannedAt" | "plannedBy">,
): void {
  insert(db, "recount", {
    id: recount.id,
    plan_id: planId,
    tally_id: recount.countId,
    kind: recount.kind,
    share: recount.share,
    fields_json: JSON.stringify(recount.fields),
    planned_at: recount.plannedAt,
    planned_by: recount.plannedBy,
  });
}

export function putRecountEntry(db: WritableDb, recountId: string, entry: Recount["entries"][number]): void {
  const { field, counts, at, by } = entry;
  const kept = { recount_id: recountId, field, counts_json: JSON.stringify(counts), at, by_person: by };
  insert(db, "recount_entry", kept, ["recount_id", "field"]);
}

export function finishRecount(
  db: WritableDb,
  id: string,
  finished: { readonly at: string; readonly by: string; readonly report: RecountReport },
): void {
  sql`UPDATE recount SET finished_at = ${finished.at}, finished_by = ${finished.by},
    report_json = ${JSON.stringify(finished.report)} WHERE id = ${id}`.run(db);
}
