import { closeSync, openSync } from "node:fs";
import Database from "better-sqlite3";
import type { CopyOrder, CopyWork } from "../../ports/copy-work.ts";
import { driverOf, type ReadableDb } from "../connection.ts";
import { HASH_TEXT_SQL } from "../trail-packing.ts";
import { flushAsItGrows } from "./flush-as-it-grows.ts";
import { makeSingleFile } from "./pragmas.ts";
import { PRIVATE_FILE } from "./private-files.ts";
import { failureKind } from "./store-failure.ts";

/** Pages copied before others have their turn. */
const PAGES_AT_A_TIME = 100;

type Copy = Extract<CopyOrder, { kind: "copy" }>;

/** Line of the trail up to which a file of a bench goes. */
export interface TrailHead {
  readonly sequence: number;
  readonly hash: string;
}

/**
 * Copies what a connection sees to a single file. What it writes meanwhile is taken in, unless it is in a transaction.
 * @throws an error of SQLite or of the file system, or the reason of the signal; `to` is no whole copy then
 */
async function copyPages(
  source: Database.Database,
  to: string,
  isUrgent: boolean,
  signal?: AbortSignal,
): Promise<void> {
  // SQLite would make it as anybody's to read.
  closeSync(openSync(to, "w", PRIVATE_FILE));
  const pageBytes = Number(source.pragma("page_size", { simple: true }));
  const flushed = flushAsItGrows(to, { isUrgent });
  try {
    await source.backup(to, {
      progress: ({ totalPages, remainingPages }) => {
        signal?.throwIfAborted();
        return flushed.grewTo((totalPages - remainingPages) * pageBytes) ? PAGES_AT_A_TIME : 0;
      },
    });
  } finally {
    await flushed.close();
  }
  const copy = new Database(to, { fileMustExist: true });
  try {
    makeSingleFile(copy);
  } finally {
    copy.close();
  }
}

/**
 * Copies a bench that is open elsewhere, as it is when this is called: what is written into it meanwhile is neither held
 * up nor taken in. @throws as `copyPages`
 */
export async function copyBench({ file, to, isUrgent = false }: Copy, signal?: AbortSignal): Promise<void> {
  const source = new Database(file, { readonly: true, fileMustExist: true });
  try {
    source.exec("BEGIN");
    // The state that is copied is that of the first read.
    source.prepare("SELECT 1 FROM sqlite_schema").get();
    await copyPages(source, to, isUrgent, signal);
  } finally {
    source.close();
  }
}

/** The newest line of a file's trail; null when it has none. */
export function headOf(file: string): TrailHead | null {
  const copy = new Database(file, { readonly: true, fileMustExist: true });
  try {
    const hasTrail = copy.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'audit_line'").get();
    if (!hasTrail) return null;
    const newest = copy
      .prepare(`SELECT sequence, ${HASH_TEXT_SQL} AS hash FROM audit_line ORDER BY sequence DESC LIMIT 1`)
      .get();
    return (newest as TrailHead | undefined) ?? null;
  } finally {
    copy.close();
  }
}

/** Whether the line up to which a copy goes is one of the bench that is open. */
function isCopyOf(db: ReadableDb, to: string): boolean {
  const head = headOf(to);
  if (head === null) return true;
  const own = driverOf(db)
    .prepare(`SELECT ${HASH_TEXT_SQL} AS hash FROM audit_line WHERE sequence = ?`)
    .pluck()
    .get(head.sequence);
  return own === head.hash;
}

/**
 * Copies the bench that is open to a single file, beside this process where that can be. Where its file has been moved,
 * removed or replaced meanwhile, what is still open is copied from here.
 * @throws as `copyPages`
 */
export async function copyOpenBench(
  db: ReadableDb,
  to: string,
  work: CopyWork,
  signal?: AbortSignal,
): Promise<void> {
  const driver = driverOf(db);
  const isCopied = await work({ kind: "copy", file: driver.name, to }, signal).then(
    () => isCopyOf(db, to),
    (error: unknown) => {
      if (failureKind(error) === "disk-full") throw error;
      return false;
    },
  );
  signal?.throwIfAborted();
  if (!isCopied) await copyPages(driver, to, true, signal);
}
