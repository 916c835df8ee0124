import { hashOfLine } from "#main/store/repositories/audit-trail.ts";
import { withRawDatabase } from "./raw-database.ts";

/** Changes one line of a trail and makes the chain whole again from there on, as one who knows the program can. */
export function rewriteTrail(databaseFile: string, from: number): void {
  withRawDatabase(databaseFile, (db) => {
    for (const { name } of db
      .prepare("SELECT name FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = 'audit_line'")
      .all() as { name: string }[]) {
      db.exec(`DROP TRIGGER ${name}`);
    }
    const lines = db
      .prepare(
        `SELECT sequence, at, person_id AS personId, act, subject, subject_id AS subjectId, reason, detail, hash
         FROM audit_line ORDER BY sequence`,
      )
      .all() as (Parameters<typeof hashOfLine>[0] & { hash: string })[];
    let previous = "";
    for (const line of lines) {
      const at = line.sequence === from ? line.at.replace("2026", "2025") : line.at;
      const hash = line.sequence < from ? line.hash : hashOfLine({ ...line, at }, previous);
      db.prepare("UPDATE audit_line SET at = ?, hash = ? WHERE sequence = ?").run(at, hash, line.sequence);
      previous = hash;
    }
  });
}
