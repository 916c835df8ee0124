import { closeSync, openSync, readFileSync, rmSync } from "node:fs";
import { hostname } from "node:os";
import Database from "better-sqlite3";
import { writeWhole } from "./durable-file.ts";
import { PRIVATE_FILE } from "./private-files.ts";

/** Who has the bench open, for the message to whoever comes second. */
export interface LockHolder {
  readonly pid: number;
  readonly computer: string;
  readonly host: string;
  readonly since: string;
  /** False while the holder opens or closes the bench: it has acknowledged nothing that its -wal alone would hold. */
  readonly isOpen: boolean;
}

export interface BenchLock {
  /** Notes that from now on the -wal may alone hold what is acknowledged, or that it does no longer. */
  note(how: "open" | "closing"): void;
  release(): void;
}

function holderFile(databaseFile: string): string {
  return `${databaseFile}.holder`;
}

/** Who holds the lock, as far as that was written down; null when unknown. */
export function readLockHolder(databaseFile: string): LockHolder | null {
  try {
    const holder: unknown = JSON.parse(readFileSync(holderFile(databaseFile), "utf8"));
    if (typeof holder !== "object" || holder === null) return null;
    const { pid, computer, host, since, isOpen } = holder as Record<string, unknown>;
    if (typeof pid !== "number") return null;
    // Programs that did not note it held it from their first moment on.
    return {
      pid,
      computer: String(computer),
      host: String(host),
      since: String(since),
      isOpen: isOpen !== false,
    };
  } catch {
    return null;
  }
}

/**
 * Takes the bench for this process, whichever host it runs in, before the database is touched.
 *
 * The lock is a writing SQLite transaction on a file of its own, held open: the operating system gives it back when
 * the process ends in any way, so a lock cannot be left stale by a kill or a power cut and no process id has to be
 * guessed about. It takes a lock for writing, and only whoever may write the file can hold that; a reader, whose shared
 * lock would stand in the way of an exclusive transaction, does not stand in the way of this one. The text file beside it
 * only tells a second comer who is first.
 * @returns null when another process, or another program in this one, holds it
 */
export function takeLock(databaseFile: string, host: string, since: string): BenchLock | null {
  const path = `${databaseFile}.lock`;
  // Made for its person alone from the first moment on.
  closeSync(openSync(path, "a", PRIVATE_FILE));
  const lock = new Database(path, { timeout: 0 });
  try {
    lock.exec("BEGIN IMMEDIATE");
  } catch (error) {
    lock.close();
    if (error instanceof Database.SqliteError && error.code.startsWith("SQLITE_BUSY")) return null;
    throw error;
  }
  const note = (isOpen: boolean): void => {
    const holder: LockHolder = { pid: process.pid, computer: hostname(), host, since, isOpen };
    writeWhole(holderFile(databaseFile), JSON.stringify(holder));
  };
  try {
    note(false);
  } catch (error) {
    lock.close();
    throw error;
  }
  return {
    note: (how) => note(how === "open"),
    release() {
      rmSync(holderFile(databaseFile), { force: true });
      lock.close();
    },
  };
}
