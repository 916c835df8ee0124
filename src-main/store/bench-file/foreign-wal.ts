import {
  closeSync,
  copyFileSync,
  existsSync,
  linkSync,
  openSync,
  readFileSync,
  readSync,
  renameSync,
  rmSync,
} from "node:fs";
import Database from "better-sqlite3";
import type { BenchPaths } from "../../ports/paths.ts";
import { HASH_TEXT_SQL } from "../trail-packing.ts";
import { BenchUnopenable } from "./bench-unopenable.ts";
import { recoveryOffers } from "./damage.ts";
import { writeWhole } from "./durable-file.ts";
import { isLarge } from "./first-look.ts";
import { quickCheckFaults, setUserVersion, userVersion } from "./pragmas.ts";

/**
 * Header of a -wal file: checkpoint number at byte 12, first salt at byte 16. Each time SQLite begins the file anew both
 * grow by one (SQLite file format, section 4.1, https://www.sqlite.org/fileformat2.html#the_write_ahead_log).
 */
interface WalMark {
  readonly checkpoint: number;
  readonly salt: number;
}
const WAL_HEADER_BYTES = 32;
/** Bytes 18 and 19 of a database: 1, it was written as one file; 2, it has a -wal (section 1.3). */
const WRITE_VERSION_OFFSET = 18;

function firstBytes(path: string, count: number): Buffer | null {
  if (!existsSync(path)) return null;
  const bytes = Buffer.alloc(count);
  const handle = openSync(path, "r");
  try {
    return readSync(handle, bytes, 0, count, 0) === count ? bytes : null;
  } finally {
    closeSync(handle);
  }
}

const walOf = ({ databaseFile }: BenchPaths): string => `${databaseFile}-wal`;
const markFileOf = ({ databaseFile }: BenchPaths): string => `${databaseFile}.wal-known`;

function markOf(wal: string): WalMark | null {
  const header = firstBytes(wal, WAL_HEADER_BYTES);
  return header && { checkpoint: header.readUInt32BE(12), salt: header.readUInt32BE(16) };
}

function rememberedMark(paths: BenchPaths): WalMark | null {
  try {
    const { checkpoint, salt } = JSON.parse(readFileSync(markFileOf(paths), "utf8")) as Record<
      string,
      unknown
    >;
    return typeof checkpoint === "number" && typeof salt === "number" ? { checkpoint, salt } : null;
  } catch {
    return null;
  }
}

/** The same -wal file, or what SQLite made of it by beginning it anew. */
function descends(now: WalMark, before: WalMark): boolean {
  const steps = (now.checkpoint - before.checkpoint) >>> 0;
  return steps === (now.salt - before.salt) >>> 0 && steps < 2 ** 31;
}

/**
 * Writes down which -wal file belongs to the bench, before anything is acknowledged. The empty transaction makes SQLite
 * write the header that bears the mark.
 */
export function rememberWal(paths: BenchPaths, database: Database.Database): void {
  database.transaction(() => setUserVersion(database, userVersion(database))).immediate();
  noteMark(paths);
}

function noteMark(paths: BenchPaths): void {
  const mark = markOf(walOf(paths));
  if (mark) writeWhole(markFileOf(paths), JSON.stringify(mark));
}

/** True while a -wal file is written down as the bench's own: the program has not closed it, or its last entries wait there. */
export const walIsRemembered = (paths: BenchPaths): boolean => existsSync(markFileOf(paths));

/** Another file has taken the bench's place: what was written down belonged to the one before. */
export function forgetMark(paths: BenchPaths): void {
  rmSync(markFileOf(paths), { force: true });
}

/** After the database was closed: SQLite leaves the -wal where another program still reads the file. */
export function rememberWalLeft(paths: BenchPaths): void {
  try {
    noteMark(paths);
  } catch {
    // Without a mark it is looked at line by line at the next start.
  }
}

interface TrailEnds {
  readonly first: string;
  readonly last: { readonly sequence: number; readonly hash: string };
  /** A line for every number from the first that was counted to the last. */
  readonly unbroken: boolean;
  hashAt(sequence: number): string | null;
}

/**
 * Reads the trail of a bench; `look` gets it while it is open.
 * @param isThorough every page and every line; otherwise, of a large bench, the lines that follow `from` and no page
 * @throws errors of SQLite where it cannot be read
 */
function withTrail<T>(
  file: string,
  { isThorough, from }: { readonly isThorough: boolean; readonly from: number },
  look: (ends: TrailEnds | null, faults: string[]) => T,
): T {
  const database = new Database(file, { readonly: true, fileMustExist: true });
  try {
    const hashes = database.prepare(`SELECT ${HASH_TEXT_SQL} FROM audit_line WHERE sequence = ?`).pluck();
    const hashAt = (sequence: number): string | null => (hashes.get(sequence) as string | undefined) ?? null;
    const { least, most } = database
      .prepare(
        "SELECT (SELECT min(sequence) FROM audit_line) AS least, (SELECT max(sequence) FROM audit_line) AS most",
      )
      .get() as { least: number | null; most: number | null };
    const faults = isThorough ? quickCheckFaults(database) : [];
    if (least === null || most === null) return look(null, faults);
    const last = { sequence: most, hash: hashAt(most) ?? "" };
    const counted = isThorough ? least : Math.max(least, from);
    const lines = database
      .prepare("SELECT count(*) FROM audit_line WHERE sequence >= ?")
      .pluck()
      .get(counted);
    const unbroken = lines === most - counted + 1;
    return look({ first: hashAt(least) ?? "", last, unbroken, hashAt }, faults);
  } finally {
    database.close();
  }
}

/** The last line of the main file without what its -wal adds, and whether that file is whole; null when it cannot be read so. */
function trailOfFileAlone(
  databaseFile: string,
  isThorough: boolean,
): Pick<TrailEnds, "first" | "last"> | null {
  const alone = `${databaseFile}.alone`;
  try {
    rmSync(alone, { force: true });
    try {
      linkSync(databaseFile, alone);
    } catch {
      copyFileSync(databaseFile, alone);
    }
    return withTrail(alone, { isThorough, from: Number.MAX_SAFE_INTEGER }, (ends, faults) =>
      ends?.unbroken && faults.length === 0 ? { first: ends.first, last: ends.last } : null,
    );
  } catch {
    return null;
  } finally {
    for (const companion of ["", "-wal", "-shm"]) rmSync(alone + companion, { force: true });
  }
}

/** Whether file and -wal together go on from where the file alone stands. */
function goesOnFrom(
  databaseFile: string,
  alone: Pick<TrailEnds, "first" | "last">,
  isThorough: boolean,
): boolean {
  try {
    return withTrail(
      databaseFile,
      { isThorough, from: alone.last.sequence },
      (joined, faults) =>
        joined !== null &&
        faults.length === 0 &&
        joined.unbroken &&
        joined.first === alone.first &&
        joined.hashAt(alone.last.sequence) === alone.last.hash,
    );
  } catch {
    return false;
  }
}

function isForeign(paths: BenchPaths, checkedWholeUpTo: number | undefined): boolean {
  const { databaseFile } = paths;
  const mark = markOf(walOf(paths));
  if (mark === null) return false;
  // A backup is written as one file: put in place by hand, it has no -wal, whatever lies beside it.
  const header = firstBytes(databaseFile, WRITE_VERSION_OFFSET + 2);
  if (header?.[WRITE_VERSION_OFFSET] === 1) return true;
  const before = rememberedMark(paths);
  if (before !== null && !descends(mark, before)) return true;
  // A large file beside the -wal that was written down for it: what was written since follows on it, line by line.
  const isThorough = before === null || !isLarge(databaseFile, checkedWholeUpTo);
  const alone = trailOfFileAlone(databaseFile, isThorough);
  return alone !== null && !goesOnFrom(databaseFile, alone, isThorough);
}

/**
 * Refuses a -wal file that is not the bench's own, before SQLite would join the two without a word. Nothing is written
 * to either. @throws BenchUnopenable `bench.foreign-wal`
 */
export function requireOwnWal(paths: BenchPaths, checkedWholeUpTo?: number): void {
  if (!isForeign(paths, checkedWholeUpTo)) return;
  throw new BenchUnopenable({
    code: "bench.foreign-wal",
    message: `Beside the bench ${paths.databaseFile} lies a file ${walOf(paths)} that does not belong to it: it comes from another bench, or from another state of this one.`,
    hint: "If you put a copy of the bench in its place by hand, open it without that file. If you moved files, put the right ones together first. Neither file was changed.",
    offers: [
      { kind: "set-wal-aside", words: "Open the bench without that file, which is kept under another name." },
      ...recoveryOffers(paths),
    ],
  });
}

/** Keeps the -wal under another name; what SQLite derived from it goes. @returns where it is kept */
export function setWalAside(paths: BenchPaths, instant: string): string {
  const aside = `${paths.databaseFile}.foreign-wal-${instant.replace(/[-:.]/g, "")}`;
  if (existsSync(walOf(paths))) renameSync(walOf(paths), aside);
  rmSync(`${paths.databaseFile}-shm`, { force: true });
  forgetMark(paths);
  // Whoever held the bench last left this file behind with it: without it nothing seems to be missing.
  rmSync(`${paths.databaseFile}.holder`, { force: true });
  return aside;
}
