import { accessSync, constants, mkdirSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { setImmediate } from "node:timers/promises";
import Database from "better-sqlite3";
import { type Following, UNFOLLOWED } from "../../long-work/following.ts";
import type { Clock } from "../../ports/clock.ts";
import { urgent } from "../../ports/copy-work.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import { asBenchDb, asReadableDb, type BenchDb, type ReadableDb } from "../connection.ts";
import { ALL_MIGRATIONS } from "../migrations/all-migrations.ts";
import type { Migration } from "../migrations/migration.ts";
import { makeBackup } from "./backup.ts";
import { type BenchLock, readLockHolder, takeLock } from "./bench-lock.ts";
import { BenchUnopenable } from "./bench-unopenable.ts";
import { doCopyWork } from "./copy-work-here.ts";
import { recoveryOffers } from "./damage.ts";
import { type FileKind, kindOfFile } from "./file-header.ts";
import { faultsAtFirstLook, faultsOfEveryPage, isLarge } from "./first-look.ts";
import { forgetMark, rememberWal, rememberWalLeft, requireOwnWal } from "./foreign-wal.ts";
import { unpackHandOver } from "./hand-over.ts";
import { benchIsKnown, rememberBench } from "./known-bench.ts";
import { removeLeftovers } from "./leftovers.ts";
import { migrate, requireOrder, schemaStateOf } from "./migrate.ts";
import { migrateByCopy } from "./migrate-copy.ts";
import { keepWithoutWal, requireTables, walIsMissing } from "./missing-wal.ts";
import { isNetworkFolder } from "./network-folder.ts";
import { applySettings, cacheGenerously, markAsOurs, optimise, userVersion } from "./pragmas.ts";
import { makePrivate, PRIVATE_FOLDER } from "./private-files.ts";
import { secondNames } from "./second-names.ts";
import { failureKind } from "./store-failure.ts";
import { finishSwap, forgetMigration, swapUnderWay } from "./swap.ts";

export interface OpenOptions {
  readonly paths: BenchPaths;
  readonly clock: Clock;
  readonly host: string;
  /** Another list than the program's own; for the tests of the machinery. */
  readonly migrations?: readonly Migration[];
  /** Another size than the program's own up to which every page is looked at before the bench is used, bytes; for tests. */
  readonly checkedWholeUpTo?: number | undefined;
  /** Told how far it is where opening takes long. */
  readonly opening?: Following["tell"] | undefined;
}

export interface OpenBench {
  readonly db: BenchDb;
  readonly notices: readonly string[];
  /** True for a large bench of which not every page has been looked at yet. */
  readonly isUnchecked: boolean;
  /** False when the file that is open was moved, removed or replaced: what is written now is in no bench. */
  isInPlace(): boolean;
  /** A second connection that sees the bench as it is now, whatever is written meanwhile. */
  snapshot(): Snapshot;
  close(): void;
}

export interface Snapshot {
  readonly db: ReadableDb;
  /** Sees from now on the bench as it is now: while one state is looked at, the -wal file cannot be folded back. */
  renew(): void;
  close(): void;
}

function locked(paths: BenchPaths): BenchUnopenable {
  const holder = readLockHolder(paths.databaseFile);
  const who = holder
    ? ` by the program with process number ${holder.pid} on ${holder.computer}, since ${holder.since.slice(0, 16).replace("T", " ")} UTC`
    : "";
  return new BenchUnopenable({
    code: "bench.locked",
    message: `The bench ${paths.databaseFile} is open already${who}.`,
    hint: "Go on in the window that is open, or close it first.",
  });
}

/** The error in words for the person, or as it is when it is a defect of ours: that must not pass for damage. */
function unopenable(paths: BenchPaths, error: unknown): unknown {
  const words = error instanceof Error ? error.message : String(error);
  switch (failureKind(error)) {
    case "disk-full":
      return new BenchUnopenable(
        {
          code: "bench.disk-full",
          message: `There is no room left on the disk of ${paths.dataFolder}.`,
          hint: "Make room on that disk and start again. Nothing was lost.",
        },
        error,
      );
    case "read-only":
      return new BenchUnopenable(
        {
          code: "bench.read-only",
          message: `The bench in ${paths.dataFolder} cannot be written (${words}).`,
          hint: "Ask for the right to write to that folder and the files in it, then start again.",
        },
        error,
      );
    case "busy":
      return locked(paths);
    case "damaged":
      return damaged(paths, words, error);
    default:
      return error;
  }
}

function damaged(paths: BenchPaths, words: string, cause?: unknown): BenchUnopenable {
  return new BenchUnopenable(
    {
      code: "bench.damaged",
      message: `The bench ${paths.databaseFile} is damaged (${words}).`,
      hint: "Choose how to go on. The damaged file is kept under another name either way.",
      offers: recoveryOffers(paths),
    },
    cause,
  );
}

/** Judges the file before SQLite touches it. @returns whether a new bench begins */
function requireOurFile(paths: BenchPaths, kind: FileKind): boolean {
  const known = benchIsKnown(paths);
  if (kind === "ours") return false;
  if (kind === "absent" || kind === "empty") {
    if (!known) return true;
    throw new BenchUnopenable({
      code: "bench.missing",
      message: `The bench ${paths.databaseFile} was opened here before and is now ${kind === "empty" ? "empty (0 bytes)" : "gone"}.`,
      hint: "Put the file back if you moved it, or choose how to go on.",
      offers: recoveryOffers(paths),
    });
  }
  if (known && kind === "no-database") throw damaged(paths, "it does not begin as a database does");
  throw new BenchUnopenable({
    code: "bench.foreign",
    message: `${paths.databaseFile} is ${kind === "no-database" ? "not a database" : "a database of another program"}. It was left as it is.`,
    hint: "Move that file away or choose another bench folder.",
  });
}

function requireWritable(paths: BenchPaths, kind: FileKind): void {
  accessSync(paths.dataFolder, constants.W_OK);
  if (kind !== "absent") accessSync(paths.databaseFile, constants.R_OK | constants.W_OK);
}

interface UpToDate {
  /** Another connection than before where a migrated copy has taken the bench's place. */
  readonly database: Database.Database;
  readonly notices: readonly string[];
}

async function bringUpToDate(
  database: Database.Database,
  { paths, clock, migrations = ALL_MIGRATIONS, opening = UNFOLLOWED.tell }: OpenOptions,
): Promise<UpToDate> {
  const schema = schemaStateOf(userVersion(database), migrations);
  if (schema.kind === "current") return { database, notices: [] };
  if (schema.kind === "newer") {
    throw new BenchUnopenable({
      code: "bench.newer",
      message: `The bench ${paths.databaseFile} was written by a newer version of this program (file version ${schema.found}; this program knows up to ${schema.known}).`,
      hint: "Install the newer version. The file was left as it is.",
    });
  }
  const { pending } = schema;
  const tell: Following["tell"] = ({ part, ...far }) => opening({ part: `the backup: ${part}`, ...far });
  const copy =
    userVersion(database) === 0
      ? null
      : await makeBackup(
          asReadableDb(database),
          paths.backupFolder,
          clock.now(),
          "before migration",
          urgent(doCopyWork),
          { ...UNFOLLOWED, tell },
        );
  try {
    if (copy === null) {
      await migrate(database, pending);
      return { database, notices: [] };
    }
    const backup = join(paths.backupFolder, copy.fileName);
    await migrateByCopy(paths, { backup, pending, at: clock.now() }, opening, () => database.close());
  } catch (error) {
    if (failureKind(error instanceof Error ? error.cause : error)) throw (error as Error).cause;
    throw new BenchUnopenable(
      {
        code: "bench.migration-failed",
        message: `The bench ${paths.databaseFile} could not be brought up to this version: ${(error as Error).message}.`,
        hint: "The bench is as it was. Go on with the version of the program you had, and report this message.",
      },
      error,
    );
  }
  const migrated = new Database(paths.databaseFile, { fileMustExist: true });
  applySettings(migrated);
  const said = `Before the bench was brought up to this version it was backed up as ${copy.fileName}.`;
  return { database: migrated, notices: [said] };
}

/** Before the file is closed, which takes its -wal away: a kill after that must not look as if somebody had. */
function closing(lock: BenchLock, paths: BenchPaths): void {
  try {
    lock.note("closing");
    forgetMark(paths);
  } catch {
    // A full disk, or a folder that has gone: closing goes on.
  }
}

async function openUnderLock(options: OpenOptions, lock: BenchLock, lacksWal: boolean): Promise<OpenBench> {
  const { paths, clock } = options;
  finishSwap(paths);
  const kind = kindOfFile(paths.databaseFile);
  const isNew = requireOurFile(paths, kind);
  requireWritable(paths, kind);
  requireOwnWal(paths, options.checkedWholeUpTo);
  removeLeftovers(paths);
  const lost = lacksWal && !isNew ? [keepWithoutWal(paths, clock.now())] : [];
  const named = isNew ? [] : secondNames(paths.databaseFile);
  let database = new Database(paths.databaseFile, { fileMustExist: !isNew });
  try {
    if (isNew) markAsOurs(database);
    const shared = makePrivate(paths);
    const schema = schemaStateOf(userVersion(database), options.migrations ?? ALL_MIGRATIONS);
    if (!isNew) requireTables(paths, userVersion(database));
    if (schema.kind !== "newer") applySettings(database);
    // What a migration is about to rewrite is looked at whole, however long it takes.
    if (schema.kind === "behind" && !isNew) {
      options.opening?.({ part: "looking at every page", done: 0, parts: 0 });
      await setImmediate();
    }
    const isUnchecked = schema.kind === "current" && isLarge(paths.databaseFile, options.checkedWholeUpTo);
    const faults = isUnchecked
      ? faultsAtFirstLook(database, paths.databaseFile)
      : faultsOfEveryPage(database);
    if (faults.length > 0) throw damaged(paths, faults.slice(0, 3).join("; "));
    const upToDate = await bringUpToDate(database, options);
    const bench = upToDate.database;
    database = bench;
    const notices = [...lost, ...named, ...shared, ...upToDate.notices];
    const unpacked = unpackHandOver(bench, paths.databaseFile);
    if (unpacked !== null) notices.push(`This bench was handed over with ${unpacked} attached files.`);
    rememberBench(paths, clock.now());
    rememberWal(paths, bench);
    lock.note("open");
    forgetMigration(paths);
    if (isNetworkFolder(dirname(paths.databaseFile))) {
      notices.push(
        "The bench lies on a network folder, where a crash can damage it: move it to a local disk.",
      );
    }
    const opened = statSync(paths.databaseFile);
    return {
      db: asBenchDb(bench),
      notices,
      isUnchecked,
      isInPlace() {
        const found = statSync(paths.databaseFile, { throwIfNoEntry: false });
        return found?.ino === opened.ino && found.dev === opened.dev;
      },
      snapshot: () => openSnapshot(paths.databaseFile, () => bench.pragma("wal_checkpoint(PASSIVE)")),
      close() {
        try {
          optimise(bench);
        } catch {
          // A courtesy to the next start; on a full disk it is left out.
        }
        closing(lock, paths);
        bench.close();
        rememberWalLeft(paths);
        lock.release();
      },
    };
  } catch (error) {
    database.close();
    throw error;
  }
}

/**
 * A read-only connection standing in one read transaction: with WAL it keeps its view while entry goes on.
 * @param foldBack brings what the -wal file holds into the bench file; between two views it can do so whole, and the
 *   next act then begins the -wal file anew, however fast acts follow each other
 */
function openSnapshot(databaseFile: string, foldBack: () => void): Snapshot {
  const database = new Database(databaseFile, { readonly: true, fileMustExist: true });
  cacheGenerously(database);
  const begin = (): void => {
    database.exec("BEGIN");
    // The transaction begins with its first read, not with BEGIN.
    database.prepare("SELECT count(*) FROM sqlite_schema").get();
  };
  begin();
  const renew = (): void => {
    database.exec("COMMIT");
    foldBack();
    begin();
  };
  return { db: asReadableDb(database), renew, close: () => database.close() };
}

/**
 * Opens a bench in this order: folder, lock, file header, settings, checks (of a large bench what can be seen at once),
 * backup before and then each pending migration. A file that is not opened is not changed.
 * @throws BenchUnopenable
 */
export async function openBench(options: OpenOptions): Promise<OpenBench> {
  const { paths, clock, host } = options;
  requireOrder(options.migrations ?? ALL_MIGRATIONS);
  let lock: BenchLock | null = null;
  try {
    mkdirSync(paths.dataFolder, { recursive: true, mode: PRIVATE_FOLDER });
    // A swap that was cut off leaves a file without a -wal, and rightly so.
    const lacksWal = swapUnderWay(paths) === null && walIsMissing(paths);
    lock = takeLock(paths.databaseFile, host, clock.now());
    if (!lock) throw locked(paths);
    return await openUnderLock(options, lock, lacksWal);
  } catch (error) {
    lock?.release();
    throw unopenable(paths, error);
  }
}
