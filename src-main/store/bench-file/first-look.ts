import { statSync } from "node:fs";
import type { Database } from "better-sqlite3";
import { asReadableDb } from "../connection.ts";
import { hashOfLine, trailBefore } from "../repositories/audit-trail.ts";
import { foreignKeyFaults, quickCheckFaults } from "./pragmas.ts";

/** Up to this many bytes every page is looked at before a bench is used: less than a second. */
export const CHECKED_WHOLE_BYTES = 64 * 2 ** 20;

/** Lines at the end of the trail that are followed before a large bench is used. */
const LINES_FOLLOWED = 500;

/** True where looking at every page would keep the person waiting: it is done when the bench is open. */
export function isLarge(databaseFile: string, wholeUpTo = CHECKED_WHOLE_BYTES): boolean {
  return (statSync(databaseFile, { throwIfNoEntry: false })?.size ?? 0) > wholeUpTo;
}

function cutOffFaults(database: Database, databaseFile: string): string[] {
  const pages = Number(database.pragma("page_count", { simple: true }));
  const pageBytes = Number(database.pragma("page_size", { simple: true }));
  const inWal = (statSync(`${databaseFile}-wal`, { throwIfNoEntry: false })?.size ?? 0) > 0;
  const { size } = statSync(databaseFile);
  return inWal || size >= pages * pageBytes ? [] : [`it is cut off after ${size} bytes`];
}

function endOfTrailFaults(database: Database): string[] {
  const [newest, ...older] = trailBefore(asReadableDb(database), null, LINES_FOLLOWED);
  let after = newest;
  for (const line of older) {
    if (after && (after.sequence !== line.sequence + 1 || hashOfLine(after, line.hash) !== after.hash)) {
      return [`line ${after.sequence} of its trail does not follow line ${line.sequence}`];
    }
    after = line;
  }
  return [];
}

/** What is wrong with a small bench, every page looked at; empty: nothing. */
export function faultsOfEveryPage(database: Database): string[] {
  return [...quickCheckFaults(database), ...foreignKeyFaults(database)];
}

/**
 * What is wrong with a large bench as far as it can be seen at once: its length and the end of its trail. The
 * rest is looked at when it is open. @throws an error of SQLite where it cannot be read
 */
export function faultsAtFirstLook(database: Database, databaseFile: string): string[] {
  return [...cutOffFaults(database, databaseFile), ...endOfTrailFaults(database)];
}
