import Database from "better-sqlite3";
import { asReadableDb, type ReadableDb } from "../connection.ts";
import { ALL_MIGRATIONS } from "../migrations/all-migrations.ts";
import { BenchUnopenable } from "./bench-unopenable.ts";
import { kindOfFile } from "./file-header.ts";
import { foreignKeyFaults, integrityFaults, userVersion } from "./pragmas.ts";
import { failureKind } from "./store-failure.ts";

/** The file version of a bench, which is only read. */
export function versionOfFile(file: string): number {
  const database = new Database(file, { readonly: true, fileMustExist: true });
  try {
    return userVersion(database);
  } finally {
    database.close();
  }
}

export interface ReadOnlyBench {
  readonly db: ReadableDb;
  /** What the check of every page found; empty: nothing. */
  readonly faults: readonly string[];
  close(): void;
}

/**
 * A bench of this program's version that nobody has open, as it stands and with nothing checked; null for one that must
 * be opened as a bench is.
 */
export function openAsItStands(file: string): Pick<ReadOnlyBench, "db" | "close"> | null {
  if (kindOfFile(file) !== "ours" || versionOfFile(file) !== ALL_MIGRATIONS.at(-1)?.version) return null;
  const database = new Database(file, { readonly: true, fileMustExist: true });
  return { db: asReadableDb(database), close: () => database.close() };
}

function requireBench(file: string): void {
  const kind = kindOfFile(file);
  if (kind === "ours") return;
  const what = {
    absent: "is not there",
    empty: "is empty (0 bytes)",
    "other-database": "is a database of another program",
    "no-database": "is not a database",
  }[kind];
  throw new BenchUnopenable({
    code: kind === "absent" || kind === "empty" ? "bench.missing" : "bench.foreign",
    message: `${file} ${what}.`,
    hint: "Name the file bench.sqlite of a bench folder, or one of its backups.",
  });
}

function requireThisVersion(database: Database.Database, file: string): void {
  const found = userVersion(database);
  const known = ALL_MIGRATIONS.at(-1)?.version ?? 0;
  if (found === known) return;
  throw new BenchUnopenable({
    code: found > known ? "bench.newer" : "bench.migration-failed",
    message: `${file} has file version ${found}; this program reads version ${known}.`,
    hint:
      found > known
        ? "Use the newer version of the program."
        : "Open it once in the program, which brings it up to date and keeps a backup.",
  });
}

/**
 * Opens a bench or a backup for reading alone, beside a program that may have it open. Nothing in the file changes.
 * @throws BenchUnopenable in words for a file that is no bench, another version, damaged or held exclusively
 */
export function openReadOnly(file: string): ReadOnlyBench {
  requireBench(file);
  let database: Database.Database | null = null;
  try {
    database = new Database(file, { readonly: true, fileMustExist: true });
    database.exec("BEGIN");
    requireThisVersion(database, file);
    const faults = [...integrityFaults(database), ...foreignKeyFaults(database)];
    const opened = database;
    return { db: asReadableDb(opened), faults, close: () => opened.close() };
  } catch (error) {
    database?.close();
    if (error instanceof BenchUnopenable) throw error;
    const kind = failureKind(error);
    if (kind === null) throw error;
    const words = error instanceof Error ? error.message : String(error);
    throw new BenchUnopenable(
      {
        code: kind === "damaged" ? "bench.damaged" : kind === "busy" ? "bench.locked" : "bench.read-only",
        message: `${file} cannot be read (${words}).`,
        hint:
          kind === "damaged"
            ? "Start the program on it: it offers the newest good backup."
            : "Close other programs that hold the file, and check that its folder can be read.",
      },
      error,
    );
  }
}
