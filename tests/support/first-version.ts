import Database from "better-sqlite3";
import { openBench } from "#main/store/bench-file/open.ts";
import { driverOf } from "#main/store/connection.ts";
import { foundation } from "#main/store/migrations/0010-foundation.ts";
import { fixedClock } from "./fixed-clock.ts";
import type { TempFolder } from "./temp-bench.ts";

function columnsOf(database: Database.Database, schema: string, table: string): string[] {
  const rows = database.prepare(`PRAGMA ${schema}.table_info("${table}")`).all() as { name: string }[];
  return rows.map((row) => row.name);
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
    const later = columnsOf(driver, "later", table);
    const columns = columnsOf(driver, "main", table)
      .filter((name) => later.includes(name))
      .map((name) => `"${name}"`)
      .join(", ");
    driver.exec(`INSERT OR IGNORE INTO main."${table}" (${columns}) SELECT ${columns} FROM later."${table}"`);
  }
  const orphans = driver.pragma("main.foreign_key_check") as unknown[];
  if (orphans.length > 0) throw new Error(`the first version's file has ${orphans.length} orphaned rows`);
  driver.exec("DETACH later");
  opened.close();
  const single = new Database(paths.databaseFile);
  single.pragma("journal_mode = DELETE");
  single.close();
}
