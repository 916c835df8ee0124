import { chmodSync, constants, copyFileSync, rmSync } from "node:fs";
import { dirname, join } from "node:path";
import Database from "better-sqlite3";
import type { Following } from "../../long-work/following.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import type { Migration } from "../migrations/migration.ts";
import { faultsOfEveryPage } from "./first-look.ts";
import { forgetMark } from "./foreign-wal.ts";
import { migrate } from "./migrate.ts";
import { applySettings, giveSpaceBack, makeSingleFile } from "./pragmas.ts";
import { PRIVATE_FILE } from "./private-files.ts";
import { asideName, finishSwap, noteSwap, readyCopyOf, setReady } from "./swap.ts";

const partialOf = ({ databaseFile }: BenchPaths): string => `${databaseFile}.migrating.partial`;

function removeWithJournals(file: string): void {
  for (const companion of ["", "-journal", "-wal", "-shm"]) rmSync(file + companion, { force: true });
}

/**
 * Brings a copy of the bench up to date and lays it ready beside the bench, which is neither written nor does its -wal
 * grow: a failure or a kill leaves it as it was. Nobody but this process sees the copy, so it needs no -wal and is
 * flushed to disk once, when it is whole and every page of it has been looked at.
 * @param backup the copy made and checked before, a whole file
 * @throws what a step throws, an Error naming what is wrong with the outcome, or an error of the file system
 */
async function layMigratedReady(
  paths: BenchPaths,
  backup: string,
  pending: readonly Migration[],
  tell: Following["tell"],
): Promise<void> {
  const partial = partialOf(paths);
  removeWithJournals(partial);
  try {
    tell({ part: "copying it once more", done: 0, parts: 0 });
    copyFileSync(backup, partial, constants.COPYFILE_FICLONE);
    chmodSync(partial, PRIVATE_FILE);
    const copy = new Database(partial, { fileMustExist: true });
    try {
      applySettings(copy);
      makeSingleFile(copy);
      copy.pragma("synchronous = OFF");
      await migrate(copy, pending, tell);
      tell({ part: "giving unused room back", done: 0, parts: 0 });
      giveSpaceBack(copy);
      tell({ part: "looking at every page", done: 0, parts: 0 });
      const faults = faultsOfEveryPage(copy);
      if (faults.length > 0) throw new Error(`the outcome is not whole: ${faults.slice(0, 3).join("; ")}`);
    } finally {
      copy.close();
    }
    setReady(paths, partial);
  } catch (error) {
    removeWithJournals(partial);
    throw error;
  }
}

/**
 * Sets a migrated copy in the place of the bench. From the first line of its journal on, a start after a kill finishes
 * the swap; it is forgotten once the outcome is open (`forgetMigration`). The file of the older version goes: its backup
 * was made and checked before.
 * @param close closes the bench that is still open
 */
function swapIn(paths: BenchPaths, at: string, close: () => void): void {
  const aside = asideName(paths.databaseFile, "before-migration", at);
  noteSwap(paths, { way: "copy", aside, restored: null });
  close();
  finishSwap(paths);
  forgetMark(paths);
  removeWithJournals(join(dirname(paths.databaseFile), aside));
}

/** See `layMigratedReady` and `swapIn`. @param close closes the bench, which stays open and locked until then */
export async function migrateByCopy(
  paths: BenchPaths,
  how: { readonly backup: string; readonly pending: readonly Migration[]; readonly at: string },
  tell: Following["tell"],
  close: () => void,
): Promise<void> {
  try {
    await layMigratedReady(paths, how.backup, how.pending, tell);
  } catch (error) {
    rmSync(readyCopyOf(paths), { force: true });
    throw error;
  }
  swapIn(paths, how.at, close);
}
