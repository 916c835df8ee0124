import { lstatSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { dirname, join } from "node:path";
import { z } from "zod";
import type { BenchPaths } from "../../ports/paths.ts";
import { isTemporaryOf } from "../../temporary-file.ts";
import { writeWhole } from "./durable-file.ts";

/** Where the program has been writing outside the folder of the bench, and by which process. */
const Notes = z.array(z.strictObject({ pid: z.int().positive(), place: z.string() }));
type Notes = z.infer<typeof Notes>;

const fileOf = ({ databaseFile }: BenchPaths): string => `${databaseFile}.writing`;

function readNotes(paths: BenchPaths): Notes {
  try {
    return Notes.parse(JSON.parse(readFileSync(fileOf(paths), "utf8")));
  } catch {
    return [];
  }
}

function keepNotes(paths: BenchPaths, notes: Notes): void {
  if (notes.length > 0) writeWhole(fileOf(paths), JSON.stringify(notes));
  else rmSync(fileOf(paths), { force: true });
}

/** Notes a place before anything is written to it, so that a start after a kill finds what was left there. */
export function noteExportPlace(paths: BenchPaths, place: string): void {
  const notes = readNotes(paths);
  const { pid } = process;
  if (notes.some((one) => one.pid === pid && one.place === place)) return;
  try {
    keepNotes(paths, [...notes, { pid, place }]);
  } catch {
    // Where the bench's own disk is full or gone, saving elsewhere matters more than a tidy folder after a kill.
  }
}

/** Every file that this process began is whole or gone. */
export function forgetExportPlaces(paths: BenchPaths): void {
  const notes = readNotes(paths);
  const others = notes.filter(({ pid }) => pid !== process.pid);
  try {
    if (others.length < notes.length) keepNotes(paths, others);
  } catch {
    // The next start looks there and finds nothing.
  }
}

function isAlive(pid: number): boolean {
  if (pid === process.pid) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

/** A file of this person, not a link or a folder that somebody put under that name. */
function isOwnFile(path: string): boolean {
  const found = lstatSync(path, { throwIfNoEntry: false });
  return found?.isFile() === true && (process.getuid === undefined || found.uid === process.getuid());
}

/** @returns whether the folder could be looked at */
function removeBeside({ pid, place }: Notes[number]): boolean {
  const folder = dirname(place);
  try {
    for (const name of readdirSync(folder).filter((one) => isTemporaryOf(one, place, pid))) {
      if (isOwnFile(join(folder, name))) rmSync(join(folder, name), { force: true });
    }
    return true;
  } catch {
    return false;
  }
}

/**
 * Removes the half-written exports that a killed program left beside the places it had noted: hidden files that bear the
 * name of the export and the number of that process, and no other. A folder that is not there now, such as a stick that
 * was pulled out, is left for another start. To be called under the lock.
 */
export function removeNotedLeftovers(paths: BenchPaths): void {
  const notes = readNotes(paths);
  const left = notes.filter((one) => isAlive(one.pid) || !removeBeside(one));
  try {
    if (left.length < notes.length) keepNotes(paths, left);
  } catch {
    // Looked at again by the next start.
  }
}
