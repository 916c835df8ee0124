import { setImmediate } from "node:timers/promises";
import type { Database } from "better-sqlite3";
import { type Following, UNFOLLOWED } from "../../long-work/following.ts";
import type { Migration } from "../migrations/migration.ts";
import { foreignKeyFaults, setForeignKeys, setUserVersion } from "./pragmas.ts";

const STEP = 10;

/**
 * Versions rise in steps of ten; a number may be left out, when a planned step never came to be.
 * @throws Error when they do not: a defect of the program, found before any file is touched
 */
export function requireOrder(migrations: readonly Migration[]): void {
  migrations.forEach(({ version }, index) => {
    const before = migrations[index - 1]?.version ?? 0;
    if (version <= before || version % STEP !== 0) {
      throw new Error(`migration ${version} cannot follow ${before}: the list is out of order`);
    }
  });
}

export type SchemaState =
  | { readonly kind: "current" }
  | { readonly kind: "behind"; readonly pending: readonly Migration[] }
  | { readonly kind: "newer"; readonly found: number; readonly known: number };

/** Where a file stands in the list. A version between two steps was written by a program we do not know: newer. */
export function schemaStateOf(found: number, migrations: readonly Migration[]): SchemaState {
  const known = migrations.at(-1)?.version ?? 0;
  const reached = migrations.findIndex((migration) => migration.version === found);
  if (found !== 0 && reached < 0) return { kind: "newer", found, known };
  const pending = migrations.slice(reached + 1);
  return pending.length === 0 ? { kind: "current" } : { kind: "behind", pending };
}

function runOne(database: Database, migration: Migration, tell: Following["tell"]): void {
  const part = `bringing it up to date: ${migration.name}`;
  tell({ part, done: 0, parts: 0 });
  // Inside a transaction this switch has no effect, so it is thrown before.
  if (migration.rebuildsTables) setForeignKeys(database, false);
  try {
    database
      .transaction(() => {
        database.exec(migration.sql);
        migration.rewrite?.(database, (done, parts) => tell({ part, done, parts }));
        if (migration.afterwards) database.exec(migration.afterwards);
        const faults = foreignKeyFaults(database);
        if (faults.length > 0) throw new Error(faults.join("; "));
        setUserVersion(database, migration.version);
      })
      .immediate();
  } finally {
    if (migration.rebuildsTables) setForeignKeys(database, true);
  }
}

/**
 * Runs the pending steps, each whole in its own transaction; a failing step leaves the file at the step before. Whoever
 * is told hears of each step before it begins.
 */
export async function migrate(
  database: Database,
  pending: readonly Migration[],
  tell: Following["tell"] = UNFOLLOWED.tell,
): Promise<void> {
  for (const migration of pending) {
    try {
      runOne(database, migration, tell);
    } catch (cause) {
      throw new Error(`step ${migration.version} (${migration.name}) failed`, { cause });
    }
    // What was told goes out before the next step keeps the process to itself.
    await setImmediate();
  }
}
