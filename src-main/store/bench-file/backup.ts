import { mkdirSync, readdirSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import type { BackupFile } from "#core/contract/records/trail.ts";
import { type Following, UNFOLLOWED } from "../../long-work/following.ts";
import type { CheckCopy } from "../../ports/check-copy.ts";
import { driverOf, type ReadableDb } from "../connection.ts";
import { type BackupReason, backupFileName, readBackupFileName } from "./backup-file-name.ts";
import { moveIntoPlace } from "./durable-file.ts";
import {
  APPLICATION_ID,
  applicationIdOf,
  foreignKeyFaults,
  integrityFaults,
  makeSingleFile,
} from "./pragmas.ts";
import { PRIVATE_FOLDER } from "./private-files.ts";

type MadeByItself = Exclude<BackupReason, "on request" | "hand-over">;

/** How many copies of a kind are kept; copies asked for by a person are never removed. */
const KEPT: Readonly<Record<MadeByItself, number>> = {
  daily: 14,
  "before migration": 6,
};

/** Pages copied before others have their turn. */
const PAGES_AT_A_TIME = 100;

/** What is wrong with a copy, in words; empty: it is a whole bench. Reads every page. */
export function copyFaults(path: string): string[] {
  let copy: Database.Database | undefined;
  try {
    copy = new Database(path, { readonly: true, fileMustExist: true });
    if (applicationIdOf(copy) !== APPLICATION_ID) return ["is not a bench of this program"];
    return [...integrityFaults(copy), ...foreignKeyFaults(copy)];
  } catch (error) {
    return [error instanceof Error ? error.message : String(error)];
  } finally {
    copy?.close();
  }
}

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
  const newest = copy.prepare("SELECT sequence, hash FROM audit_line ORDER BY sequence DESC LIMIT 1").get();
  if (typeof newest !== "object" || newest === null) return null;
  const { sequence, hash } = newest as { sequence: number; hash: string };
  return { sequence, hash };
}

/** By how far the bench had come, then by the clock: a clock set back or forward makes no copy older or newer. */
function newestFirst(one: BackupFile, other: BackupFile): number {
  const further = (other.head?.sequence ?? -1) - (one.head?.sequence ?? -1);
  return further === 0 ? other.madeAt.localeCompare(one.madeAt) : further;
}

/** The copies in a folder, newest first; other files are left out. */
export function listBackups(folder: string): BackupFile[] {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch {
    return [];
  }
  return names
    .flatMap((fileName) => {
      const said = readBackupFileName(fileName);
      const bytes = statSync(join(folder, fileName), { throwIfNoEntry: false })?.size;
      return said && bytes !== undefined ? [{ fileName, bytes, ...said }] : [];
    })
    .sort(newestFirst);
}

/** The copies to remove: of one day only the newest daily one stays, and of each kind a number. */
function surplusOf(files: readonly BackupFile[], why: MadeByItself): BackupFile[] {
  const ofKind = files.filter((file) => file.why === why);
  const days = ofKind.map((file) => file.madeAt.slice(0, 10));
  const kept = why === "daily" ? ofKind.filter((_, i) => days.indexOf(days[i] ?? "") === i) : ofKind;
  const staying = new Set(kept.slice(0, KEPT[why]));
  return ofKind.filter((file) => !staying.has(file));
}

function rotate(folder: string, why: BackupReason): void {
  if (why === "on request" || why === "hand-over") return;
  for (const file of surplusOf(listBackups(folder), why)) {
    rmSync(join(folder, file.fileName), { force: true });
  }
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

/**
 * Copies the open bench while it stays in use, checks the copy page by page, and only then gives it its name.
 * Older copies of the same kind beyond the number kept are removed.
 * @throws when the folder cannot be written, the copy does not pass its check, or it is stopped; no half copy stays
 * behind, and what a check still reads goes when that ends
 */
export async function makeBackup(
  db: ReadableDb,
  folder: string,
  madeAt: string,
  why: BackupReason,
  check: CheckCopy = async (copy) => copyFaults(copy),
  { signal, tell }: Following = UNFOLLOWED,
): Promise<BackupFile> {
  mkdirSync(folder, { recursive: true, mode: PRIVATE_FOLDER });
  const partial = join(folder, `${backupFileName(madeAt, why, null)}.partial`);
  let head: BackupFile["head"];
  let fileName: string;
  let checking: Promise<unknown> = Promise.resolve();
  try {
    await driverOf(db).backup(partial, {
      progress: ({ totalPages, remainingPages }) => {
        signal.throwIfAborted();
        tell({ part: "copying", done: totalPages - remainingPages, parts: totalPages });
        return PAGES_AT_A_TIME;
      },
    });
    signal.throwIfAborted();
    head = toSingleFile(partial);
    fileName = backupFileName(madeAt, why, head);
    tell({ part: "checking the copy", done: 0, parts: 0 });
    const answer = check(partial);
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
  rotate(folder, why);
  return {
    fileName,
    bytes: statSync(join(folder, fileName)).size,
    madeAt,
    why,
    head: readBackupFileName(fileName)?.head ?? null,
  };
}
