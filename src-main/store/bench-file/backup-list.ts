import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import type { BackupFile } from "#core/contract/records/trail.ts";
import { readBackupFileName, stemOf, WHOLE } from "./backup-file-name.ts";

/** By how far the bench had come, then by the clock: a clock set back or forward makes no copy older or newer. */
function newestFirst(one: BackupFile, other: BackupFile): number {
  const further = (other.head?.sequence ?? -1) - (one.head?.sequence ?? -1);
  return further === 0 ? other.madeAt.localeCompare(one.madeAt) : further;
}

/** The copies in a folder, newest first; other files are left out. One that lies there in both forms is told once. */
export function listBackups(folder: string): BackupFile[] {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch {
    return [];
  }
  const whole = new Set(names.filter((name) => name.endsWith(WHOLE)).map(stemOf));
  return names
    .filter((name) => name.endsWith(WHOLE) || !whole.has(stemOf(name)))
    .flatMap((fileName) => {
      const said = readBackupFileName(fileName);
      const bytes = statSync(join(folder, fileName), { throwIfNoEntry: false })?.size;
      return said && bytes !== undefined ? [{ fileName, bytes, ...said }] : [];
    })
    .sort(newestFirst);
}

/** The newest copy of a kind; null when there is none. */
export function newestThat(folder: string, fits: (file: BackupFile) => boolean): BackupFile | null {
  return listBackups(folder).find(fits) ?? null;
}
