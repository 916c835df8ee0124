import { copyFileSync, existsSync, mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import type { BackupCheck } from "#core/contract/calls/bench-files.ts";
import type { Clock } from "../../ports/clock.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import { all, one, type ReadableDb } from "../connection.ts";
import { ALL_MIGRATIONS } from "../migrations/all-migrations.ts";
import { readKept } from "./attachment-files.ts";
import { readBackupFileName } from "./backup-file-name.ts";
import { openBench } from "./open.ts";
import { versionOfFile } from "./read-only.ts";

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

/**
 * Opens a copy of a backup in a folder of its own, as this program opens a bench: header, checks, migrations. The backup
 * itself is only read.
 * @throws BenchUnopenable, or an error of the file system
 */
export async function checkBackup(
  { paths, clock }: { readonly paths: BenchPaths; readonly clock: Clock },
  fileName: string,
): Promise<BackupCheck> {
  const folder = mkdtempSync(join(paths.dataFolder, "checking-"));
  const trial: BenchPaths = {
    dataFolder: folder,
    databaseFile: join(folder, "bench.sqlite"),
    backupFolder: join(folder, "backups"),
    exportFolder: folder,
  };
  try {
    const backup = join(paths.backupFolder, fileName);
    copyFileSync(backup, trial.databaseFile);
    const bench = await openBench({ paths: trial, clock, host: "check" });
    try {
      const missing = all(
        bench.db,
        "SELECT DISTINCT sha256 FROM attachment WHERE withdrawn_at IS NULL",
      ).filter(({ sha256 }) =>
        [trial.databaseFile, paths.databaseFile].every(
          (file) => readKept(file, String(sha256)).state !== "whole",
        ),
      );
      return {
        fileName,
        madeAt: readBackupFileName(fileName)?.madeAt ?? clock.now(),
        version: versionOfFile(backup),
        programVersion: ALL_MIGRATIONS.at(-1)?.version ?? 0,
        ...contentsOf(bench.db),
        missingAttachments: missing.length,
      };
    } finally {
      bench.close();
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
