import { chmodSync, lstatSync, readdirSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import type { BenchPaths } from "../../ports/paths.ts";
import { attachmentFolder } from "./attachment-files.ts";
import { anchorFileOf } from "./trail-anchor.ts";

export const PRIVATE_FOLDER = 0o700;
export const PRIVATE_FILE = 0o600;
const OTHERS = 0o077;

function entriesOf(folder: string): string[] {
  try {
    return readdirSync(folder).map((name) => join(folder, name));
  } catch {
    return [];
  }
}

/** Takes from others what they may do with a file or folder. @returns whether they could do anything */
function makeOwn(path: string): boolean {
  const found = lstatSync(path, { throwIfNoEntry: false });
  if (!found || found.isSymbolicLink() || (found.mode & OTHERS) === 0) return false;
  chmodSync(path, found.isDirectory() ? PRIVATE_FOLDER : PRIVATE_FILE);
  return true;
}

/**
 * Sets folder and files of a bench so that only the person who runs the program can read them. Other files that lie in
 * the folder are left alone. On Windows a folder has the rights of the person's profile, and nothing is done.
 * @returns what to tell the person; empty when all was private already
 */
export function makePrivate(paths: BenchPaths): string[] {
  if (process.platform === "win32") return [];
  const { dataFolder, databaseFile, backupFolder, exportFolder } = paths;
  const folders = [backupFolder, exportFolder, attachmentFolder(databaseFile), join(dataFolder, "incoming")];
  const begins = [basename(databaseFile), "faults.log", basename(anchorFileOf(paths))];
  const own = entriesOf(dirname(databaseFile)).filter((path) =>
    begins.some((begin) => basename(path).startsWith(begin)),
  );
  try {
    const wasOpen = makeOwn(dataFolder);
    for (const path of [...own, ...folders, ...folders.flatMap(entriesOf)]) makeOwn(path);
    if (!wasOpen) return [];
    return [
      "Other people with an account on this computer could look into the folder of this bench. It is yours alone from now on.",
    ];
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return [
      `The files of this bench could not be made yours alone (${why}): others on this computer may read them.`,
    ];
  }
}
