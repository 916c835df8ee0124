import { createReadStream, createWriteStream, mkdtempSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { pipeline } from "node:stream/promises";
import { setImmediate, setTimeout } from "node:timers/promises";
import type { BackupCheck } from "#core/contract/calls/bench-files.ts";
import { type Following, UNFOLLOWED } from "../../long-work/following.ts";
import { createYielder } from "../../long-work/yield-to-events.ts";
import type { Clock } from "../../ports/clock.ts";
import type { CopyWork } from "../../ports/copy-work.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import type { ReadableDb } from "../connection.ts";
import { ALL_MIGRATIONS } from "../migrations/all-migrations.ts";
import { sql } from "../sql.ts";
import { unpackInstant } from "../trail-packing.ts";
import { readKept } from "./attachment-files.ts";
import { CONDENSED, readBackupFileName, stemOf } from "./backup-file-name.ts";
import { BenchUnopenable } from "./bench-unopenable.ts";
import { openCondensed } from "./condensed-file.ts";
import { presentFile } from "./copy-chain.ts";
import { kindOfFile } from "./file-header.ts";
import { flushAsItGrows } from "./flush-as-it-grows.ts";
import { tellGrowth } from "./growing-file.ts";
import { openBench } from "./open.ts";
import { PRIVATE_FILE } from "./private-files.ts";
import { openAsItStands, versionOfFile } from "./read-only.ts";

/** Bytes. */
const COPIED_AT_ONCE = 1 << 20;
const FLUSH_WAIT_MS = 5;

/**
 * The file in which the backup of that name lies: it may have been condensed since its name was read. null when there is
 * none; a name with a path in it is no backup's.
 */
export function backupNow({ backupFolder }: BenchPaths, fileName: string): string | null {
  return readBackupFileName(fileName) === null ? null : presentFile(backupFolder, stemOf(fileName));
}

/** Lines counted before others have their turn. */
const LINES_AT_A_TIME = 20_000;

async function trailLines(db: ReadableDb, yieldToEvents: () => Promise<void> | undefined): Promise<number> {
  const last = sql`SELECT max(sequence) AS last FROM audit_line`.number(db);
  let lines = 0;
  for (let from = 0; from <= last; from += LINES_AT_A_TIME) {
    const end = from + LINES_AT_A_TIME;
    lines += sql`SELECT count(*) AS lines FROM audit_line
      WHERE sequence >= ${from} AND sequence < ${end}`.number(db);
    await yieldToEvents();
  }
  return lines;
}

type Contents = Pick<BackupCheck, "sheets" | "rows" | "trailLines" | "newestAct" | "attachments">;

async function contentsOf(db: ReadableDb, yieldToEvents: () => Promise<void> | undefined): Promise<Contents> {
  const row = sql`SELECT (SELECT count(*) FROM sheet) AS sheets,
    (SELECT coalesce(sum(row_count), 0) FROM sheet) AS rows,
    (SELECT count(*) FROM attachment) AS attachments,
    (SELECT at FROM audit_line ORDER BY sequence DESC LIMIT 1) AS newest`.one(db);
  return {
    sheets: Number(row?.sheets),
    rows: Number(row?.rows),
    trailLines: await trailLines(db, yieldToEvents),
    newestAct: row?.newest == null ? null : unpackInstant(row.newest),
    attachments: Number(row?.attachments),
  };
}

/** Copies a file, told in kibibytes; makes way for other work. @throws the reason of the signal once it is given */
async function copyAndReport(from: string, to: string, { signal, tell }: Following): Promise<void> {
  const parts = Math.ceil(statSync(from).size / 1024);
  const flushed = flushAsItGrows(to);
  let bytes = 0;
  try {
    await pipeline(
      createReadStream(from, { highWaterMark: COPIED_AT_ONCE }),
      async function* reporting(chunks: AsyncIterable<Buffer>) {
        for await (const chunk of chunks) {
          // What has been given on before has been written.
          while (bytes > 0 && !flushed.grewTo(bytes)) await setTimeout(FLUSH_WAIT_MS);
          bytes += chunk.length;
          tell({ part: "copying it", done: Math.floor(bytes / 1024), parts });
          yield chunk;
        }
      },
      createWriteStream(to, { flush: true, mode: PRIVATE_FILE }),
      { signal },
    );
  } finally {
    await flushed.close();
  }
}

/** Has a condensed copy rebuilt; how far that is shows in the file it becomes. @throws BenchUnopenable `bench.damaged` */
async function rebuildAndReport(
  file: string,
  to: string,
  work: CopyWork,
  following: Following,
): Promise<void> {
  const condensed = openCondensed(file);
  condensed.close();
  const untold = tellGrowth(to, condensed.facts.bytes, "rebuilding it", following);
  try {
    const faults = await work({ kind: "rebuild", file, to }, following.signal);
    following.signal.throwIfAborted();
    if (faults.length > 0) throw damaged(faults.join("; "));
  } finally {
    untold();
  }
}

function damaged(what: string): BenchUnopenable {
  return new BenchUnopenable({
    code: "bench.damaged",
    message: `It is damaged (${what}).`,
    hint: "Choose another backup.",
  });
}

/** @throws BenchUnopenable `bench.damaged` */
async function requireWhole(file: string, work: CopyWork, { signal, tell }: Following): Promise<void> {
  tell({ part: "checking every page", done: 0, parts: 0 });
  await setImmediate();
  signal.throwIfAborted();
  const faults = await work({ kind: "check", file }, signal);
  signal.throwIfAborted();
  if (faults.length === 0) return;
  throw damaged(faults.slice(0, 3).join("; "));
}

/**
 * Looks at a backup page by page and says what is in it. One that is condensed, or of another version, becomes a bench in
 * a folder of its own first: rebuilt, opened as this program opens a bench, migrated. The backup itself is only read.
 * @throws BenchUnopenable, an error of the file system, or the reason of the signal once it is given
 */
export async function checkBackup(
  {
    paths,
    clock,
    copyWork,
  }: { readonly paths: BenchPaths; readonly clock: Clock; readonly copyWork: CopyWork },
  fileName: string,
  following: Following = UNFOLLOWED,
): Promise<BackupCheck> {
  const yieldToEvents = createYielder();
  const folder = mkdtempSync(join(paths.dataFolder, "checking-"));
  const trial: BenchPaths = {
    dataFolder: folder,
    databaseFile: join(folder, "bench.sqlite"),
    backupFolder: join(folder, "backups"),
    exportFolder: folder,
  };
  try {
    const backup = join(paths.backupFolder, fileName);
    const isCondensed = fileName.endsWith(CONDENSED);
    if (isCondensed) await rebuildAndReport(backup, trial.databaseFile, copyWork, following);
    const lies = isCondensed ? trial.databaseFile : backup;
    const version = kindOfFile(lies) === "ours" ? versionOfFile(lies) : 0;
    // One of this version is looked at where it lies. Others become a bench first, in their folder; so does a hand-over
    // file, which then lets go of what is packed in it.
    const said = readBackupFileName(fileName);
    const asItStands = said?.why === "hand-over" ? null : openAsItStands(lies);
    if (asItStands === null && !isCondensed) await copyAndReport(backup, trial.databaseFile, following);
    following.tell({ part: "opening the copy", done: 0, parts: 0 });
    await setImmediate();
    following.signal.throwIfAborted();
    const bench = asItStands ?? (await openBench({ paths: trial, clock, host: "check" }));
    try {
      if (!("isUnchecked" in bench) || bench.isUnchecked) {
        await requireWhole(asItStands ? lies : trial.databaseFile, copyWork, following);
      }
      return {
        fileName,
        madeAt: said?.madeAt ?? clock.now(),
        version,
        programVersion: ALL_MIGRATIONS.at(-1)?.version ?? 0,
        ...(await contentsOf(bench.db, yieldToEvents)),
        missingAttachments: await missingAttachments(
          bench.db,
          [trial.databaseFile, paths.databaseFile],
          following,
          yieldToEvents,
        ),
      };
    } finally {
      bench.close();
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** @param databaseFiles beside which attached files are looked for */
async function missingAttachments(
  db: ReadableDb,
  databaseFiles: readonly string[],
  { signal, tell }: Following,
  yieldToEvents: () => Promise<void> | undefined,
): Promise<number> {
  const attached = sql`SELECT DISTINCT sha256 FROM attachment WHERE withdrawn_at IS NULL`.all(db);
  let missing = 0;
  for (const [done, { sha256 }] of attached.entries()) {
    tell({ part: "reading attachments", done, parts: attached.length });
    if (!databaseFiles.some((file) => readKept(file, String(sha256)).state === "whole")) missing += 1;
    await yieldToEvents();
    signal.throwIfAborted();
  }
  return missing;
}
