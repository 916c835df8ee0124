import type { Database } from "better-sqlite3";
import { failureKind } from "./store-failure.ts";

/** “Linf” in ASCII: the mark in the file header by which a bench is known. */
export const APPLICATION_ID = 0x4c696e66;

const SYNCHRONOUS_FULL = 2;

/** Marks a new, empty file as ours before it switches to WAL, so that the mark stands in the main file itself. */
export function markAsOurs(database: Database): void {
  database.pragma(`application_id = ${APPLICATION_ID}`);
}

/** 64 MB. The default of 2 MB reads the same pages of a long sheet again and again, and makes a large paste spill. */
export function cacheGenerously(database: Database): void {
  database.pragma("cache_size = -65536");
}

/**
 * The settings of every writing connection. `synchronous` falls back to NORMAL whenever a file already in WAL mode is
 * opened, so it is set each time and read back: an acknowledged reading must survive a power cut.
 */
export function applySettings(database: Database): void {
  database.pragma("journal_mode = WAL");
  database.pragma("synchronous = FULL");
  database.pragma("foreign_keys = ON");
  database.pragma("busy_timeout = 5000");
  cacheGenerously(database);
  database.pragma("trusted_schema = OFF");
  database.pragma("cell_size_check = ON");
  // So that the triggers against deletion also meet INSERT OR REPLACE.
  database.pragma("recursive_triggers = ON");
  const synchronous = database.pragma("synchronous", { simple: true });
  const journal = database.pragma("journal_mode", { simple: true });
  if (synchronous !== SYNCHRONOUS_FULL || journal !== "wal") {
    throw new Error(`the database runs with synchronous=${synchronous}, journal_mode=${journal}`);
  }
}

export function userVersion(database: Database): number {
  return Number(database.pragma("user_version", { simple: true }));
}

/** Inside a migration's transaction, so that version and tables change together. */
export function setUserVersion(database: Database, version: number): void {
  database.pragma(`user_version = ${Math.trunc(version)}`);
}

export function setForeignKeys(database: Database, on: boolean): void {
  database.pragma(`foreign_keys = ${on ? "ON" : "OFF"}`);
}

/** Rows whose foreign key points nowhere, in words; empty: none. */
export function foreignKeyFaults(database: Database): string[] {
  const rows = database.pragma("foreign_key_check") as { table: string; parent: string }[];
  return rows.slice(0, 10).map((row) => `a row of ${row.table} points to a missing row of ${row.parent}`);
}

function checkAnswers(rows: unknown): string[] {
  return (rows as Record<string, unknown>[])
    .map((row) => String(Object.values(row)[0]))
    .filter((answer) => answer !== "ok");
}

/** What the quick check finds wrong; empty: nothing. */
export function quickCheckFaults(database: Database): string[] {
  return checkAnswers(database.pragma("quick_check(10)"));
}

/** What the full check finds wrong; empty: nothing. */
export function integrityFaults(database: Database): string[] {
  return checkAnswers(database.pragma("integrity_check(10)"));
}

export function applicationIdOf(database: Database): number {
  return Number(database.pragma("application_id", { simple: true }));
}

/** A copy is one file: without this a backup of a WAL database would want its own -wal beside it. */
export function makeSingleFile(database: Database): void {
  database.pragma("journal_mode = DELETE");
}

/** Refreshes the planner's statistics before the connection closes. */
export function optimise(database: Database): void {
  database.pragma("optimize");
}

/**
 * Gives the disk back what a file no longer uses where that is a good part of it, as after a change of its format. A
 * disk without the room that this needs meanwhile leaves the file as it is: it fills up again with work.
 */
export function giveSpaceBack(database: Database): void {
  const free = Number(database.pragma("freelist_count", { simple: true }));
  const pages = Number(database.pragma("page_count", { simple: true }));
  if (free * 4 < pages) return;
  try {
    database.exec("VACUUM");
  } catch (error) {
    const kind = failureKind(error);
    if (kind !== "disk-full" && kind !== "read-only") throw error;
  }
}
