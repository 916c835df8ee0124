import { copyFileSync, existsSync, renameSync, rmSync } from "node:fs";
import { join } from "node:path";
import type { BenchPaths } from "../../ports/paths.ts";
import { copyFaults, listBackups } from "./backup.ts";
import { readBackupFileName } from "./backup-file-name.ts";
import type { RecoveryOffer } from "./bench-unopenable.ts";
import { moveIntoPlace } from "./durable-file.ts";

/** SQLite keeps part of the data in these until it is folded back: they belong to the file and go with it. */
const COMPANIONS = ["", "-wal", "-shm"];

/** The ways out of a bench that cannot be opened: the newest copy that passes its check, or an empty beginning. */
export function recoveryOffers(paths: BenchPaths): RecoveryOffer[] {
  const good = listBackups(paths.backupFolder).find(
    (file) => copyFaults(join(paths.backupFolder, file.fileName)).length === 0,
  );
  const restore: RecoveryOffer[] = good
    ? [
        {
          kind: "restore",
          fileName: good.fileName,
          madeAt: good.madeAt,
          words: `Go on with the backup of ${good.madeAt.slice(0, 16).replace("T", " ")} UTC (${good.why}), which passed its check.`,
        },
      ]
    : [];
  return [...restore, { kind: "start-empty", words: "Begin with an empty bench. The present file is kept." }];
}

/** Puts a file that was put aside back into the place of the database. */
export function putBack(databaseFile: string, aside: string): void {
  for (const companion of COMPANIONS) rmSync(databaseFile + companion, { force: true });
  for (const companion of COMPANIONS) {
    if (existsSync(aside + companion)) renameSync(aside + companion, databaseFile + companion);
  }
}

/**
 * Puts a file that does not open aside under a name that says so, with what belongs to it. Never deletes.
 * @returns its new path, or null when there is no such file
 */
export function putAside(
  databaseFile: string,
  instant: string,
  why: "damaged" | "before-restore" = "damaged",
): string | null {
  const aside = `${databaseFile}.${why}-${instant.replace(/[-:.]/g, "")}`;
  for (const companion of COMPANIONS) {
    if (existsSync(databaseFile + companion)) renameSync(databaseFile + companion, aside + companion);
  }
  return existsSync(aside) ? aside : null;
}

/**
 * Puts a checked copy in the place of the database; what stands there is put aside once the copy has proven good.
 * @returns the new path of the file put aside, or null when there was none
 * @throws Error when the name is not that of a backup or the copy does not pass its check; nothing has changed then
 */
export function restoreCopy(
  paths: BenchPaths,
  fileName: string,
  instant: string,
  why: "damaged" | "before-restore" = "damaged",
): string | null {
  if (!readBackupFileName(fileName)) throw new Error(`${fileName} is not the name of a backup`);
  const partial = `${paths.databaseFile}.restoring`;
  copyFileSync(join(paths.backupFolder, fileName), partial);
  const faults = copyFaults(partial);
  if (faults.length > 0) {
    rmSync(partial, { force: true });
    throw new Error(`the backup ${fileName} did not pass its check: ${faults.join("; ")}`);
  }
  const aside = putAside(paths.databaseFile, instant, why);
  moveIntoPlace(partial, paths.databaseFile);
  return aside;
}
