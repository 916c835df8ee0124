import { createReadStream, createWriteStream, existsSync, mkdtempSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { pipeline } from "node:stream/promises";
import type { BackupCheck } from "#core/contract/calls/bench-files.ts";
import { type Following, UNFOLLOWED } from "../../long-work/following.ts";
import { createYielder } from "../../long-work/yield-to-events.ts";
import type { CheckCopy } from "../../ports/check-copy.ts";
import type { Clock } from "../../ports/clock.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import { all, one, type ReadableDb } from "../connection.ts";
import { ALL_MIGRATIONS } from "../migrations/all-migrations.ts";
import { readKept } from "./attachment-files.ts";
import { readBackupFileName } from "./backup-file-name.ts";
import { BenchUnopenable } from "./bench-unopenable.ts";
import { openBench } from "./open.ts";
import { versionOfFile } from "./read-only.ts";

/** Bytes. */
const COPIED_AT_ONCE = 1 << 20;

/** True when the folder holds a backup of that name; a name with a path in it is none. */
export function isBackup(paths: BenchPaths, fileName: string): boolean {
  return readBackupFileName(fileName) !== null && existsSync(join(paths.backupFolder, fileName));
}

function contentsOf(
  db: ReadableDb,
): Pick<BackupCheck, "sheets" | "rows" | "trailLines" | "newestAct" | "attachments"> {
  const row = one(
    db,
    `SELECT (SELECT count(*) FROM sheet) AS sheets, (SELECT coalesce(sum(row_count), 0) FROM sheet) AS rows,
       (SELECT count(*) FROM audit_line) AS lines, (SELECT count(*) FROM attachment) AS attachments,
       (SELECT at FROM audit_line ORDER BY sequence DESC LIMIT 1) AS newest`,
  );
  return {
    sheets: Number(row?.sheets),
    rows: Number(row?.rows),
    trailLines: Number(row?.lines),
    newestAct: typeof row?.newest === "string" ? row.newest : null,
    attachments: Number(row?.attachments),
  };
}

/** Copies a file, told in kibibytes; makes way for other work. @throws the reason of the signal once it is given */
async function copyAndReport(from: string, to: string, { signal, tell }: Following): Promise<void> {
  const parts = Math.ceil(statSync(from).size / 1024);
  let bytes = 0;
  await pipeline(
    createReadStream(from, { highWaterMark: COPIED_AT_ONCE }),
    async function* reporting(chunks: AsyncIterable<Buffer>) {
      for await (const chunk of chunks) {
        bytes += chunk.length;
        tell({ part: "copying it", done: Math.floor(bytes / 1024), parts });
        yield chunk;
      }
    },
    createWriteStream(to),
    { signal },
  );
}

/** @throws BenchUnopenable `bench.damaged` */
async function requireWhole(
  { databaseFile }: BenchPaths,
  check: CheckCopy,
  { signal, tell }: Following,
): Promise<void> {
  tell({ part: "checking every page", done: 0, parts: 0 });
  const faults = await check(databaseFile, signal);
  signal.throwIfAborted();
  if (faults.length === 0) return;
  throw new BenchUnopenable({
    code: "bench.damaged",
    message: `It is damaged (${faults.slice(0, 3).join("; ")}).`,
    hint: "Choose another backup.",
  });
}

/**
 * Opens a copy of a backup in a folder of its own, as this program opens a bench: header, checks, migrations. The backup
 * itself is only read.
 * @throws BenchUnopenable, an error of the file system, or the reason of the signal once it is given
 */
export async function checkBackup(
  {
    paths,
    clock,
    checkCopy,
  }: { readonly paths: BenchPaths; readonly clock: Clock; readonly checkCopy: CheckCopy },
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
    await copyAndReport(backup, trial.databaseFile, following);
    following.tell({ part: "opening the copy", done: 0, parts: 0 });
    await yieldToEvents();
    following.signal.throwIfAborted();
    const bench = await openBench({ paths: trial, clock, host: "check" });
    try {
      if (bench.isUnchecked) await requireWhole(trial, checkCopy, following);
      const attached = all(bench.db, "SELECT DISTINCT sha256 FROM attachment WHERE withdrawn_at IS NULL");
      let missing = 0;
      for (const [done, { sha256 }] of attached.entries()) {
        following.tell({ part: "reading attachments", done, parts: attached.length });
        const isThere = [trial.databaseFile, paths.databaseFile].some(
          (file) => readKept(file, String(sha256)).state === "whole",
        );
        if (!isThere) missing += 1;
        await yieldToEvents();
        following.signal.throwIfAborted();
      }
      return {
        fileName,
        madeAt: readBackupFileName(fileName)?.madeAt ?? clock.now(),
        version: versionOfFile(backup),
        programVersion: ALL_MIGRATIONS.at(-1)?.version ?? 0,
        ...contentsOf(bench.db),
        missingAttachments: missing,
      };
    } finally {
      bench.close();
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
