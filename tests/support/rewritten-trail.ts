import type { TrailLine } from "#core/contract/records/trail.ts";
import { asReadableDb, asWritableDb } from "#main/store/connection.ts";
import { hashOfLine, NO_LINE_BEFORE, trailAfter } from "#main/store/repositories/audit-trail.ts";
import { insertLine } from "#main/store/repositories/trail-lines.ts";
import { withRawDatabase } from "./raw-database.ts";

type Told = Omit<TrailLine, "hash">;

/** Keeps every line anew as `change` makes it, with the chain whole from its first line on. */
export function rewriteLines(databaseFile: string, change: (line: Told) => Told): void {
  withRawDatabase(databaseFile, (db) => {
    const triggers = db
      .prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger' AND tbl_name LIKE 'audit_%'")
      .all() as { name: string; sql: string }[];
    for (const { name } of triggers) db.exec(`DROP TRIGGER ${name}`);
    const lines = trailAfter(asReadableDb(db), 0, Number.MAX_SAFE_INTEGER) as TrailLine[];
    db.exec("DELETE FROM audit_line; DELETE FROM audit_model; DELETE FROM audit_kind");
    let previous = NO_LINE_BEFORE;
    for (const { hash: _, ...line } of lines) {
      const told = change(line);
      previous = hashOfLine(told, previous);
      insertLine(asWritableDb(db), "audit_line", { ...told, hash: previous });
    }
    for (const { sql } of triggers) db.exec(sql);
  });
}

/** Changes the instant of one line and makes the chain whole again, as one who knows the program can. */
export function rewriteTrail(databaseFile: string, from: number): void {
  rewriteLines(databaseFile, (line) =>
    line.sequence === from ? { ...line, at: line.at.replace("2026", "2025") } : line,
  );
}
