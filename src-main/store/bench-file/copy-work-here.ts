import { rmSync } from "node:fs";
import { basename, dirname } from "node:path";
import Database from "better-sqlite3";
import type { CopyOrder } from "../../ports/copy-work.ts";
import { CONDENSED } from "./backup-file-name.ts";
import { condense } from "./condense.ts";
import { rebuildCopy } from "./copy-chain.ts";
import { copyBench } from "./copy-pages.ts";
import { APPLICATION_ID, applicationIdOf, foreignKeyFaults, integrityFaults } from "./pragmas.ts";

/** What is wrong with a bench file, every page looked at. */
function faultsOfWhole(path: string): string[] {
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

/** What is wrong with a bench or a copy of it, in words; empty: it is a whole bench. A condensed one is rebuilt beside it. */
export function copyFaults(path: string): string[] {
  if (!path.endsWith(CONDENSED)) return faultsOfWhole(path);
  const rebuilt = `${path}.${process.pid}.checked.partial`;
  rmSync(rebuilt, { force: true });
  try {
    const faults = rebuildCopy(dirname(path), basename(path), rebuilt);
    return faults.length > 0 ? faults : faultsOfWhole(rebuilt);
  } finally {
    rmSync(rebuilt, { force: true });
  }
}

/**
 * Carries out an order in this process, which does nothing else meanwhile, but while it copies.
 * @throws errors of the file system, and of SQLite or the reason of the signal while it copies
 */
export async function doCopyWork(order: CopyOrder, signal?: AbortSignal): Promise<readonly string[]> {
  switch (order.kind) {
    case "copy":
      await copyBench(order, signal);
      return [];
    case "check":
      return copyFaults(order.file);
    case "rebuild":
      return rebuildCopy(dirname(order.file), basename(order.file), order.to);
    case "condense":
      return condense(order);
  }
}
