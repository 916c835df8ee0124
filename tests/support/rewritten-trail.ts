import type { TrailLine } from "#core/contract/records/trail.ts";
import { asReadableDb } from "#main/store/connection.ts";
import { hashOfLine, trailAfter } from "#main/store/repositories/audit-trail.ts";
import { packInstant } from "#main/store/trail-packing.ts";
import { withRawDatabase } from "./raw-database.ts";

/** Changes one line of a trail and makes the chain whole again from there on, as one who knows the program can. */
export function rewriteTrail(databaseFile: string, from: number): void {
  withRawDatabase(databaseFile, (db) => {
    for (const { name } of db
      .prepare("SELECT name FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = 'audit_line'")
      .all() as { name: string }[]) {
      db.exec(`DROP TRIGGER ${name}`);
    }
    let previous = "";
    for (const line of trailAfter(asReadableDb(db), 0, Number.MAX_SAFE_INTEGER) as TrailLine[]) {
      const at = line.sequence === from ? line.at.replace("2026", "2025") : line.at;
      const hash = line.sequence < from ? line.hash : hashOfLine({ ...line, at }, previous);
      db.prepare("UPDATE audit_line SET at = ?, hash = unhex(?) WHERE sequence = ?").run(
        packInstant(at),
        hash,
        line.sequence,
      );
      previous = hash;
    }
  });
}
