import type { Database } from "better-sqlite3";
import { asWritableDb } from "../connection.ts";
import { insertLine, type LineToKeep } from "../repositories/trail-lines.ts";

const PAGE = 500;

/** Copies every line of the trail into its packed table, a page at a time. The hashes are those that were there. */
export function packTrail(database: Database, tell: (done: number, parts: number) => void): void {
  const read = database.prepare(
    `SELECT sequence, at, person_id AS personId, act, subject, subject_id AS subjectId, reason, detail, hash
     FROM audit_line WHERE sequence > ? ORDER BY sequence LIMIT ${PAGE}`,
  );
  const most = Number(database.prepare("SELECT coalesce(max(sequence), 0) FROM audit_line").pluck().get());
  const db = asWritableDb(database);
  for (let after = 0; ; ) {
    const page = read.all(after) as LineToKeep[];
    for (const line of page) insertLine(db, "audit_line_packed", line);
    const last = page.at(-1);
    if (!last) return;
    after = last.sequence;
    tell(after, most);
  }
}
