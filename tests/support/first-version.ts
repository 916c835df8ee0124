import Database from "better-sqlite3";
import { openBench } from "#main/store/bench-file/open.ts";
import { asReadableDb, driverOf } from "#main/store/connection.ts";
import { foundation } from "#main/store/migrations/0010-foundation.ts";
import { trailAfter } from "#main/store/repositories/audit-trail.ts";
import { fixedClock } from "./fixed-clock.ts";
import type { TempFolder } from "./temp-bench.ts";

function columnsOf(database: Database.Database, schema: string, table: string): string[] {
  const rows = database.prepare(`PRAGMA ${schema}.table_info("${table}")`).all() as { name: string }[];
  return rows.map((row) => row.name);
}

/** Of a reading today's file names row, train, reader and calibration by numbers. */
const MEASURED = `(SELECT m.*, r.id AS row_id, s.train_id, s.entered_by, c.calibration_id
  FROM later.measurement m JOIN later.specimen_row r ON r.key = m.row_key
    JOIN later.measurement_source s ON s.id = m.source
    LEFT JOIN later.measurement_calibration c ON c.id = m.calibration)`;

/** The lines of a trail as the first version kept them: every text whole. */
function copyTrail(driver: Database.Database, file: string): void {
  const later = new Database(file, { readonly: true });
  const insert = driver.prepare(
    `INSERT INTO main.audit_line VALUES (:sequence, :at, :personId, :act, :subject, :subjectId, :reason, :detail, :hash)`,
  );
  for (const line of trailAfter(asReadableDb(later), 0, Number.MAX_SAFE_INTEGER)) insert.run(line);
  later.close();
}

/** Makes, in an empty folder, a bench file of the first version with everything of `file` that it can hold. */
export async function benchOfTheFirstVersion(file: string, { paths }: TempFolder): Promise<void> {
  const opened = await openBench({ paths, clock: fixedClock(), host: "test", migrations: [foundation] });
  const driver = driverOf(opened.db);
  driver.pragma("foreign_keys = OFF");
  driver.exec(`ATTACH '${file}' AS later`);
  const tables = driver
    .prepare("SELECT name FROM main.sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    .pluck()
    .all() as string[];
  for (const table of tables) {
    if (table === "audit_line") {
      copyTrail(driver, file);
      continue;
    }
    const isMeasured = table === "measurement";
    const later = [
      ...columnsOf(driver, "later", table),
      ...(isMeasured ? ["row_id", "train_id", "entered_by", "calibration_id"] : []),
    ];
    const columns = columnsOf(driver, "main", table)
      .filter((name) => later.includes(name))
      .map((name) => `"${name}"`)
      .join(", ");
    driver.exec(
      `INSERT OR IGNORE INTO main."${table}" (${columns}) SELECT ${columns} FROM ${isMeasured ? MEASURED : `later."${table}"`}`,
    );
  }
  const orphans = driver.pragma("main.foreign_key_check") as unknown[];
  if (orphans.length > 0) throw new Error(`the first version's file has ${orphans.length} orphaned rows`);
  driver.exec("DETACH later");
  opened.close();
  const single = new Database(paths.databaseFile);
  single.pragma("journal_mode = DELETE");
  single.close();
}
