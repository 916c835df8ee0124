import { existsSync, readdirSync, rmSync } from "node:fs";
import { basename, join } from "node:path";
import type { BenchPaths } from "../../ports/paths.ts";
import { attachmentFolder } from "./attachment-files.ts";
import { removeNotedLeftovers } from "./export-notes.ts";
import { swapUnderWay } from "./swap.ts";

function removeWhere(folder: string, isLeftover: (name: string) => boolean): void {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch {
    return;
  }
  for (const name of names.filter(isLeftover)) {
    try {
      rmSync(join(folder, name), { recursive: true, force: true });
    } catch {
      // A process that outlived its host still has it open, which Windows minds: it goes at the next start.
    }
  }
}

/**
 * Removes half-written files that a killed program left behind. To be called under the lock, so that nobody is writing
 * them: copies being made or tried out, the file that a finished change of the format replaced (its backup is kept), files being received, exports being written, in the bench's own folder or beside
 * a place a person chose.
 */
export function removeLeftovers(paths: BenchPaths): void {
  const { dataFolder, databaseFile, backupFolder, exportFolder } = paths;
  removeNotedLeftovers(paths);
  const half = (name: string): boolean => /\.partial(-wal|-shm|-journal)?$/.test(name);
  const bench = basename(databaseFile);
  const unused = (name: string): boolean => name === `${bench}.restoring` && swapUnderWay(paths) === null;
  removeWhere(
    dataFolder,
    (name) =>
      name.startsWith("checking-") ||
      name === "incoming" ||
      unused(name) ||
      (name.startsWith(bench) && (half(name) || name.startsWith(`${bench}.alone`))) ||
      (name.startsWith(`${bench}.before-migration-`) && existsSync(databaseFile)),
  );
  removeWhere(
    backupFolder,
    (name) => name.startsWith("bench-") && /\.partial(-wal|-shm|-journal)?$/.test(name),
  );
  removeWhere(attachmentFolder(databaseFile), half);
  removeWhere(exportFolder, (name) => /^\..*\.part(-wal|-shm|-journal)?$/.test(name));
}
