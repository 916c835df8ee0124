import { mkdirSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import type { BackupFile } from "#core/contract/records/trail.ts";
import { type Following, UNFOLLOWED } from "../../long-work/following.ts";
import type { CopyWork } from "../../ports/copy-work.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import { driverOf, type ReadableDb } from "../connection.ts";
import { type BackupReason, backupFileName, readBackupFileName } from "./backup-file-name.ts";
import { copyOpenBench, headOf } from "./copy-pages.ts";
import { doCopyWork } from "./copy-work-here.ts";
import { moveIntoPlace } from "./durable-file.ts";
import { tellGrowth } from "./growing-file.ts";
import { PRIVATE_FOLDER } from "./private-files.ts";

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

/**
 * Copies the open bench while it stays in use, checks the copy page by page, and only then gives it its name. What is
 * written once the first part of "copying" is told to be done is not in it.
 * `condenseOlder` then makes the copies before it small.
 * @throws when the folder cannot be written, the copy does not pass its check, or it is stopped; no half copy stays
 * behind, and what a check still reads goes when that ends
 */
export async function makeBackup(
  db: ReadableDb,
  folder: string,
  madeAt: string,
  why: BackupReason,
  work: CopyWork = doCopyWork,
  following: Following = UNFOLLOWED,
): Promise<BackupFile> {
  const { signal, tell } = following;
  mkdirSync(folder, { recursive: true, mode: PRIVATE_FOLDER });
  const partial = join(folder, `${backupFileName(madeAt, why, null)}.partial`);
  let head: BackupFile["head"];
  let fileName: string;
  let checking: Promise<unknown> = Promise.resolve();
  const driver = driverOf(db);
  const pragma = (name: string): number => Number(driver.pragma(name, { simple: true }));
  const untold = tellGrowth(partial, pragma("page_count") * pragma("page_size"), "copying", following);
  try {
    await copyOpenBench(db, partial, work, signal);
    untold();
    head = headOf(partial);
    fileName = backupFileName(madeAt, why, head);
    tell({ part: "checking the copy", done: 0, parts: 0 });
    const answer = work({ kind: "check", file: partial }, signal);
    checking = answer.catch(() => undefined);
    const faults = await untilStopped(answer, signal);
    if (faults.length > 0) throw new Error(`the copy did not pass its check: ${faults.join("; ")}`);
    moveIntoPlace(partial, join(folder, fileName));
  } catch (error) {
    const remove = (): void => {
      for (const left of [partial, `${partial}-journal`]) rmSync(left, { force: true });
    };
    if (signal.aborted) void checking.then(remove);
    else remove();
    throw error;
  } finally {
    untold();
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
  work: CopyWork = doCopyWork,
  { signal, tell }: Following = UNFOLLOWED,
): Promise<void> {
  tell({ part: "making older copies small", done: 0, parts: 0 });
  const lockFile = `${databaseFile}.copies-lock`;
  await work({ kind: "condense", folder, lockFile, made }, signal).catch(() => undefined);
}
