import { copyFileSync, existsSync } from "node:fs";
import type { BenchPaths } from "../../ports/paths.ts";
import { readLockHolder } from "./bench-lock.ts";
import { BenchUnopenable } from "./bench-unopenable.ts";
import { recoveryOffers } from "./damage.ts";
import { walIsRemembered } from "./foreign-wal.ts";
import { benchIsKnown } from "./known-bench.ts";

/** By the file of who holds it; one that cannot be read tells of a holder all the same. */
function leftOpen(databaseFile: string): boolean {
  return existsSync(`${databaseFile}.holder`) && readLockHolder(databaseFile)?.isOpen !== false;
}

/**
 * True when the program did not close the bench the last time and the file with its last entries is not there: SQLite
 * leaves it behind whenever a program ends without closing. Two files tell of that end, who held the bench and which -wal
 * is its own; either is enough. To be asked before the lock is taken, which writes anew who holds it.
 */
export function walIsMissing(paths: BenchPaths): boolean {
  const { databaseFile } = paths;
  const wasLeftOpen = leftOpen(databaseFile) || walIsRemembered(paths);
  return wasLeftOpen && existsSync(databaseFile) && !existsSync(`${databaseFile}-wal`);
}

/** A bench known to hold something whose file has no tables: everything it held stood in the file that is gone. */
export function requireTables(paths: BenchPaths, version: number): void {
  if (version > 0 || !benchIsKnown(paths)) return;
  throw new BenchUnopenable({
    code: "bench.missing",
    message: `The bench ${paths.databaseFile} was opened here before and holds nothing now: its entries stood in ${paths.databaseFile}-wal, which is gone.`,
    hint: "Put that file back beside it, or choose how to go on.",
    offers: recoveryOffers(paths),
  });
}

/** Keeps the file as it was found, so that it can still be joined with its other half. @returns what to tell the person */
export function keepWithoutWal({ databaseFile }: BenchPaths, instant: string): string {
  const aside = `${databaseFile}.without-wal-${instant.replace(/[-:.]/g, "")}`;
  copyFileSync(databaseFile, aside);
  return `The program did not close this bench the last time, and the file ${databaseFile}-wal with its last entries is gone. What is in the bench now may lack them: look at the newest lines of the trail. The file as it was found is kept as ${aside}; if you have the other one, close the program and put both back under their names.`;
}
