import { closeSync, mkdirSync, openSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import type { BackupFile } from "#core/contract/records/trail.ts";
import { type Following, UNFOLLOWED } from "../../long-work/following.ts";
import type { CopyWork } from "../../ports/copy-work.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import { driverOf, type ReadableDb } from "../connection.ts";
import { HASH_TEXT_SQL } from "../trail-packing.ts";
import { type BackupReason, backupFileName, readBackupFileName } from "./backup-file-name.ts";
import { doCopyWork } from "./copy-work-here.ts";
import { moveIntoPlace } from "./durable-file.ts";
import { flushAsItGrows } from "./flush-as-it-grows.ts";
import { makeSingleFile } from "./pragmas.ts";
import { PRIVATE_FILE, PRIVATE_FOLDER } from "./private-files.ts";

/** Pages copied before others have their turn. */
const PAGES_AT_A_TIME = 100;

/** Makes the copy a single file. @returns the newest line of its trail */
function toSingleFile(path: string): BackupFile["head"] {
  const copy = new Database(path, { fileMustExist: true });
  try {
    makeSingleFile(copy);
    return headOf(copy);
  } finally {
    copy.close();
  }
}

function headOf(copy: Database.Database): BackupFile["head"] {
  const hasTrail = copy.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'audit_line'").get();
  if (!hasTrail) return null;
  const newest = copy
    .prepare(`SELECT sequence, ${HASH_TEXT_SQL} AS hash FROM audit_line ORDER BY sequence DESC LIMIT 1`)
    .get();
  if (typeof newest !== "object" || newest === null) return null;
  const { sequence, hash } = newest as { sequence: number; hash: string };
  return { sequence, hash };
}

/** The answer, or the reason of the signal if that comes first. */
async function untilStopped<T>(answer: Promise<T>, signal: AbortSignal): Promise<T> {
  signal.throwIfAborted();
  const { promise, reject } = Promise.withResolvers<never>();
  const stop = (): void => reject(signal.reason);
  signal.addEventListener("abort", stop);
  try {
    return await Promise.race([answer, promise]);
  } finally {
    signal.removeEventListener("abort", stop);
  }
}

async function copyPages(db: ReadableDb, partial: string, { signal, tell }: Following): Promise<void> {
  const driver = driverOf(db);
  const pageBytes = Number(driver.pragma("page_size", { simple: true }));
  // SQLite would make it as anybody's to read.
  closeSync(openSync(partial, "w", PRIVATE_FILE));
  const flushed = flushAsItGrows(partial);
  try {
    await driver.backup(partial, {
      progress: ({ totalPages, remainingPages }) => {
        signal.throwIfAborted();
        const done = totalPages - remainingPages;
        tell({ part: "copying", done, parts: totalPages });
        return flushed.grewTo(done * pageBytes) ? PAGES_AT_A_TIME : 0;
      },
    });
  } finally {
    await flushed.close();
  }
}

/**
 * Copies the open bench while it stays in use, checks the copy page by page, and only then gives it its name.
 * `condenseOlder` then makes the copies before it small.
 * @throws when the folder cannot be written, the copy does not pass its check, or it is stopped; no half copy stays
 * behind, and what a check still reads goes when that ends
 */
export async function makeBackup(
  db: ReadableDb,
  folder: string,
  madeAt: string,
  why: BackupReason,
  work: CopyWork = async (order) => doCopyWork(order),
  { signal, tell }: Following = UNFOLLOWED,
): Promise<BackupFile> {
  mkdirSync(folder, { recursive: true, mode: PRIVATE_FOLDER });
  const partial = join(folder, `${backupFileName(madeAt, why, null)}.partial`);
  let head: BackupFile["head"];
  let fileName: string;
  let checking: Promise<unknown> = Promise.resolve();
  try {
    await copyPages(db, partial, { signal, tell });
    signal.throwIfAborted();
    head = toSingleFile(partial);
    fileName = backupFileName(madeAt, why, head);
    tell({ part: "checking the copy", done: 0, parts: 0 });
    const answer = work({ kind: "check", file: partial }, signal);
    checking = answer.catch(() => undefined);
    const faults = await untilStopped(answer, signal);
    if (faults.length > 0) throw new Error(`the copy did not pass its check: ${faults.join("; ")}`);
    moveIntoPlace(partial, join(folder, fileName));
  } catch (error) {
    const remove = (): void => rmSync(partial, { force: true });
    if (signal.aborted) void checking.then(remove);
    else remove();
    throw error;
  }
  const { size: bytes } = statSync(join(folder, fileName));
  return { fileName, bytes, madeAt, why, head: readBackupFileName(fileName)?.head ?? null };
}

/**
 * Makes the copies before `made` small, and removes those beyond the number kept. The copy is there, whatever comes of
 * this: what is stopped or fails goes on where it was after the next backup.
 */
export async function condenseOlder(
  { databaseFile, backupFolder: folder }: Pick<BenchPaths, "databaseFile" | "backupFolder">,
  made: string,
  work: CopyWork = async (order) => doCopyWork(order),
  { signal, tell }: Following = UNFOLLOWED,
): Promise<void> {
  tell({ part: "making older copies small", done: 0, parts: 0 });
  const lockFile = `${databaseFile}.copies-lock`;
  await work({ kind: "condense", folder, lockFile, made }, signal).catch(() => undefined);
}
