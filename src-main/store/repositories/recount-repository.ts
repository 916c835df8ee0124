import { Recount, type RecountReport } from "#core/contract/records/recount.ts";
import { all, insert, one, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";
import { countNumber } from "./count-repository.ts";

const RECOUNT = `SELECT r.id, r.tally_id AS "countId", t.ordinal, t.sample, r.kind, r.share, r.fields_json AS fields,
  r.planned_at AS "plannedAt", r.planned_by AS "plannedBy", r.finished_at AS "finishedAt",
  r.finished_by AS "finishedBy", r.report_json AS report
  FROM recount r JOIN tally t ON t.id = r.tally_id`;

function entriesOf(db: ReadableDb, recountId: string): Row[] {
  return all(
    db,
    `SELECT field, counts_json AS counts, at, by_person AS by FROM recount_entry WHERE recount_id = ? ORDER BY field`,
    recountId,
  ).map((row) => ({ ...row, counts: JSON.parse(String(row.counts)) }));
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
  const row = one(db, `${RECOUNT} WHERE r.id = ?`, id);
  return row ? recountOf(db, row) : null;
}

/** Newest first; of one count, or of all. */
export function listRecounts(db: ReadableDb, countId: string | null): Recount[] {
  const rows =
    countId === null
      ? all(db, `${RECOUNT} ORDER BY r.planned_at DESC, r.rowid DESC`)
      : all(db, `${RECOUNT} WHERE r.tally_id = ? ORDER BY r.planned_at DESC, r.rowid DESC`, countId);
  return rows.map((row) => recountOf(db, row));
}

/** Recounts drawn together. */
export function recountsOfPlan(db: ReadableDb, planId: string): Recount[] {
  return all(db, `${RECOUNT} WHERE r.plan_id = ? ORDER BY r.rowid`, planId).map((row) => recountOf(db, row));
}

/** With which others a recount was drawn. */
export function planOfRecount(db: ReadableDb, id: string): string | null {
  const row = one(db, "SELECT plan_id FROM recount WHERE id = ?", id);
  return row ? String(row.plan_id) : null;
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
  run(
    db,
    `INSERT INTO recount_entry (recount_id, field, counts_json, at, by_person) VALUES (?, ?, ?, ?, ?)
     ON CONFLICT (recount_id, field) DO UPDATE SET counts_json = excluded.counts_json, at = excluded.at,
       by_person = excluded.by_person`,
    recountId,
    entry.field,
    JSON.stringify(entry.counts),
    entry.at,
    entry.by,
  );
}

export function finishRecount(
  db: WritableDb,
  id: string,
  finished: { readonly at: string; readonly by: string; readonly report: RecountReport },
): void {
  run(
    db,
    "UPDATE recount SET finished_at = ?, finished_by = ?, report_json = ? WHERE id = ?",
    finished.at,
    finished.by,
    JSON.stringify(finished.report),
    id,
  );
}
