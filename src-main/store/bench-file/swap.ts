import { existsSync, readFileSync, renameSync, rmSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { z } from "zod";
import type { BenchPaths } from "../../ports/paths.ts";
import { readBackupFileName, stemOf } from "./backup-file-name.ts";
import { presentFile, rebuildCopy } from "./copy-chain.ts";
import { copyFaults } from "./copy-work-here.ts";
import { moveIntoPlace, writeWhole } from "./durable-file.ts";

/** SQLite keeps part of the data in these until it is folded back: they belong to the file and go with it. */
const COMPANIONS = ["-wal", "-shm", ""];

const Restored = z.strictObject({
  fileName: z.string(),
  madeAt: z.string(),
  /** By name: who restores may not be registered in the bench that comes back; null where the bench did not open. */
  by: z.string().nullable(),
  reason: z.string(),
});
/** What the trail of the bench that comes back is told. */
export type Restored = z.infer<typeof Restored>;

/**
 * One file set in the place of another, written down before the first rename, so that a start after a kill finishes it.
 * `copy`: a checked copy lies ready under its own name. `back`: the file kept aside takes its place again.
 */
const Swap = z.strictObject({
  way: z.enum(["copy", "back"]),
  /** Name of the file kept aside, in the folder of the bench. */
  aside: z.string(),
  restored: Restored.nullable(),
});
export type Swap = z.infer<typeof Swap>;

const journalOf = ({ databaseFile }: BenchPaths): string => `${databaseFile}.swap`;
export const readyCopyOf = ({ databaseFile }: BenchPaths): string => `${databaseFile}.restoring`;

/** The swap that was begun and not yet told to the trail; null when there is none. */
export function swapUnderWay(paths: BenchPaths): Swap | null {
  try {
    return Swap.parse(JSON.parse(readFileSync(journalOf(paths), "utf8")));
  } catch {
    return null;
  }
}

/** Name for what stands in the way: it says why and since when. */
export function asideName(
  databaseFile: string,
  why: "damaged" | "before-restore" | "before-migration",
  instant: string,
): string {
  return `${basename(databaseFile)}.${why}-${instant.replace(/[-:.]/g, "")}`;
}

/**
 * Lays a checked copy of a backup ready beside the bench, which is not touched.
 * @throws Error when the name is not that of a backup or the copy does not pass its check; file errors as they come
 */
export function stageCopy(paths: BenchPaths, fileName: string): void {
  if (!readBackupFileName(fileName)) throw new Error(`${fileName} is not the name of a backup`);
  const ready = readyCopyOf(paths);
  try {
    rmSync(ready, { force: true });
    const present = presentFile(paths.backupFolder, stemOf(fileName)) ?? fileName;
    const parts = rebuildCopy(paths.backupFolder, present, ready);
    const faults = parts.length > 0 ? parts : copyFaults(ready);
    if (faults.length > 0) {
      throw new Error(`the backup ${fileName} did not pass its check: ${faults.join("; ")}`);
    }
  } catch (error) {
    rmSync(ready, { force: true });
    throw error;
  }
}

/** Lays a finished file ready under the name that a swap takes it from; it is on disk then. */
export function setReady(paths: BenchPaths, finished: string): void {
  moveIntoPlace(finished, readyCopyOf(paths));
}

/** Writes down what is about to be done: from now on a start finishes it. */
export function noteSwap(paths: BenchPaths, swap: Swap): void {
  writeWhole(journalOf(paths), JSON.stringify(swap));
}

/** Writes down what is about to be done, then does it. To be called under the lock of a bench that is not open. */
export function carryOut(paths: BenchPaths, swap: Swap): void {
  noteSwap(paths, swap);
  finishSwap(paths);
}

function move(from: string, to: string): void {
  for (const companion of COMPANIONS) {
    if (existsSync(from + companion)) renameSync(from + companion, to + companion);
  }
}

/** Does what is left of a swap; nothing when it is done. The same from every point where it can have been cut off. */
export function finishSwap(paths: BenchPaths): void {
  const swap = swapUnderWay(paths);
  if (swap === null) return;
  const aside = join(dirname(paths.databaseFile), swap.aside);
  if (swap.way === "back") {
    // The main file goes last: while it is aside, the way back is not done.
    if (existsSync(aside)) move(aside, paths.databaseFile);
    return;
  }
  const ready = readyCopyOf(paths);
  if (!existsSync(ready)) return;
  move(paths.databaseFile, aside);
  moveIntoPlace(ready, paths.databaseFile);
}

/** The trail has been told, or there is nothing to tell. */
export function forgetSwap(paths: BenchPaths): void {
  rmSync(journalOf(paths), { force: true });
}

/** A bench that was brought up to date on a copy is open: its swap has nothing to tell. */
export function forgetMigration(paths: BenchPaths): void {
  if (swapUnderWay(paths)?.aside.includes(".before-migration-")) forgetSwap(paths);
}

/** Puts a file that does not open aside with what belongs to it. Never deletes. @returns its path, or null when there is none */
export function putAside(databaseFile: string, instant: string): string | null {
  const aside = join(dirname(databaseFile), asideName(databaseFile, "damaged", instant));
  move(databaseFile, aside);
  return existsSync(aside) ? aside : null;
}
