import { rmSync } from "node:fs";
import Database from "better-sqlite3";
import type { CopyWork } from "../../ports/copy-work.ts";
import { temporaryBeside } from "../../temporary-file.ts";
import type { ReadableDb } from "../connection.ts";
import { keepFile, readKept, sha256Of } from "./attachment-files.ts";
import { copyOpenBench } from "./copy-pages.ts";
import { doCopyWork } from "./copy-work-here.ts";
import { moveIntoPlace } from "./durable-file.ts";

/** Holds the attached files inside a hand-over file and nowhere else: opening the file as a bench unpacks and drops it. */
const TABLE = "handed_over_attachment";

function packAttachments(copy: Database.Database, databaseFile: string, hashes: Iterable<string>): void {
  copy.exec(`CREATE TABLE ${TABLE} (sha256 TEXT NOT NULL PRIMARY KEY, content BLOB NOT NULL) STRICT`);
  const insert = copy.prepare(`INSERT INTO ${TABLE} (sha256, content) VALUES (?, ?)`);
  for (const sha256 of new Set(hashes)) {
    const kept = readKept(databaseFile, sha256);
    if (kept.state !== "whole") throw new Error(`the attached file ${sha256} is ${kept.state}`);
    insert.run(sha256, kept.content);
  }
}

/**
 * Writes the whole bench with its attached files as one file, while it stays in use; checks it page by page before it
 * gets its name. @throws Error of the file system, or when a file is missing or the copy does not pass its check
 */
export async function writeHandOver(
  db: ReadableDb,
  databaseFile: string,
  hashes: Iterable<string>,
  path: string,
  work: CopyWork = doCopyWork,
): Promise<void> {
  const partial = temporaryBeside(path);
  try {
    await copyOpenBench(db, partial, work);
    const copy = new Database(partial, { fileMustExist: true });
    try {
      packAttachments(copy, databaseFile, hashes);
    } finally {
      copy.close();
    }
    const faults = await work({ kind: "check", file: partial });
    if (faults.length > 0) throw new Error(`the copy did not pass its check: ${faults.join("; ")}`);
    moveIntoPlace(partial, path);
  } catch (error) {
    rmSync(partial, { force: true });
    throw error;
  }
}

/**
 * Puts the files that came inside a hand-over file beside the database, each checked against its SHA-256, and then lets
 * them go from it. @returns how many there were; null for a bench that was not handed over
 * @throws Error when one of them is not what its name says; the bench is as it came then
 */
export function unpackHandOver(database: Database.Database, databaseFile: string): number | null {
  const there = database.prepare("SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?").get(TABLE);
  if (!there) return null;
  let count = 0;
  for (const { sha256, content } of database
    .prepare(`SELECT sha256, content FROM ${TABLE}`)
    .iterate() as IterableIterator<{ sha256: string; content: Buffer }>) {
    if (sha256Of(content) !== sha256)
      throw new Error(`the attached file ${sha256} is not what its name says`);
    keepFile(databaseFile, content);
    count += 1;
  }
  database.exec(`DROP TABLE ${TABLE}`);
  return count;
}
