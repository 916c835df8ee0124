import { createHash } from "node:crypto";
import { closeSync, fdatasyncSync, fstatSync, openSync, readSync } from "node:fs";
import { deflateSync, inflateSync } from "node:zlib";
import Database from "better-sqlite3";
import { FLUSHED_BYTES, pauseAfter } from "./flush-as-it-grows.ts";
import { pauseHere } from "./give-way.ts";
import { applicationIdOf } from "./pragmas.ts";
import { PRIVATE_FILE } from "./private-files.ts";

/** “Linc” in ASCII: the mark of a condensed copy, which no bench bears. */
const CONDENSED_ID = 0x4c696e63;
/** Bytes that are compared and kept together: a page of a bench. */
export const PAGE_BYTES = 4096;
/** Pages read from a file, or pressed together, at once. */
const PAGES_OF_A_WINDOW = 256;
const PAGES_OF_A_RUN = 16;

/** The content of a bench file, page by page; what `page` answers holds until the next page is asked for. */
export interface Pages {
  readonly bytes: number;
  /** @param number from 0 to `pageCount` */
  page(number: number): Buffer;
}

export const pageCount = (bytes: number): number => Math.ceil(bytes / PAGE_BYTES);

/** A whole bench file, read in its order. */
export function openWhole(path: string): Pages & { close(): void } {
  const handle = openSync(path, "r");
  const { size: bytes } = fstatSync(handle);
  const window = Buffer.allocUnsafe(PAGES_OF_A_WINDOW * PAGE_BYTES);
  let first = -1;
  let held = 0;
  return {
    bytes,
    page(number) {
      const at = number - (number % PAGES_OF_A_WINDOW);
      if (at !== first) {
        held = readSync(handle, window, 0, window.length, at * PAGE_BYTES);
        first = at;
      }
      const from = (number - first) * PAGE_BYTES;
      return window.subarray(from, Math.min(from + PAGE_BYTES, held));
    },
    close: () => closeSync(handle),
  };
}

/** SHA-256 of the whole content, in hex. */
export function sha256OfPages(pages: Pages): string {
  const hash = createHash("sha256");
  for (let number = 0; number < pageCount(pages.bytes); number += 1) hash.update(pages.page(number));
  return hash.digest("hex");
}

/** What a condensed copy is, and which other copy it needs: by its name without ending, and what that must hold. */
export interface CondensedFacts {
  readonly bytes: number;
  readonly sha256: string;
  readonly base: { readonly stem: string; readonly sha256: string } | null;
}

export interface CondensedFile {
  readonly facts: CondensedFacts;
  /** First page and number of pages of each run that the file holds itself. */
  runs(): IterableIterator<{ readonly first: number; readonly pages: number }>;
  /** One of those pages. */
  page(number: number): Buffer;
  close(): void;
}

/** @throws an error of SQLite, or Error where the file is none of ours */
export function openCondensed(path: string): CondensedFile {
  const database = new Database(path, { readonly: true, fileMustExist: true });
  try {
    if (applicationIdOf(database) !== CONDENSED_ID) throw new Error("it is no condensed copy");
    const copy = database.prepare("SELECT bytes, sha256, base, base_sha256 FROM copy").get() as {
      bytes: number;
      sha256: string;
      base: string | null;
      base_sha256: string | null;
    };
    const runAt = database.prepare(
      "SELECT first, pages, content FROM run WHERE first <= ? ORDER BY first DESC LIMIT 1",
    );
    let held = { first: 0, pages: 0, content: Buffer.alloc(0) };
    return {
      facts: {
        bytes: copy.bytes,
        sha256: copy.sha256,
        base: copy.base === null ? null : { stem: copy.base, sha256: copy.base_sha256 ?? "" },
      },
      runs: () =>
        database.prepare("SELECT first, pages FROM run ORDER BY first").iterate() as IterableIterator<{
          first: number;
          pages: number;
        }>,
      page(number) {
        if (number < held.first || number >= held.first + held.pages) {
          const found = runAt.get(number) as typeof held | undefined;
          if (!found || number >= found.first + found.pages) throw new Error(`its page ${number} is missing`);
          held = { ...found, content: inflateSync(found.content) };
        }
        const from = (number - held.first) * PAGE_BYTES;
        return held.content.subarray(from, Math.min(from + PAGE_BYTES, held.content.length));
      },
      close: () => database.close(),
    };
  } catch (error) {
    database.close();
    throw error;
  }
}

/** Presses pages that follow each other together, a run at a time. */
function createRuns(insert: (first: number, pages: number, content: Buffer) => void) {
  let first = 0;
  let pages: Buffer[] = [];
  const end = (): void => {
    if (pages.length > 0) insert(first, pages.length, deflateSync(Buffer.concat(pages), { level: 1 }));
    pages = [];
  };
  return {
    add(number: number, page: Buffer): void {
      if (pages.length === PAGES_OF_A_RUN || number !== first + pages.length) end();
      if (pages.length === 0) first = number;
      pages.push(Buffer.from(page));
    },
    end,
  };
}

function createFile(path: string): Database.Database {
  closeSync(openSync(path, "wx", PRIVATE_FILE));
  const database = new Database(path);
  // A file that is cut off is thrown away, so it needs no journal.
  database.pragma("journal_mode = OFF");
  database.pragma("synchronous = OFF");
  database.pragma(`application_id = ${CONDENSED_ID}`);
  database.exec(`
    CREATE TABLE copy (bytes INTEGER NOT NULL, sha256 TEXT NOT NULL, base TEXT, base_sha256 TEXT) STRICT;
    CREATE TABLE run (first INTEGER PRIMARY KEY, pages INTEGER NOT NULL, content BLOB NOT NULL) STRICT;
  `);
  return database;
}

/**
 * Writes what a copy holds as a condensed one: all of it, or the pages that differ from those of a newer copy.
 * @returns the SHA-256 of both, as read
 * @throws errors of the file system, and of reading either copy
 */
export function writeCondensed(
  path: string,
  copy: Pages,
  base: { readonly stem: string; readonly pages: Pages } | null,
): { readonly sha256: string; readonly baseSha256: string | null } {
  const database = createFile(path);
  const handle = openSync(path, "r+");
  try {
    const [own, under] = [createHash("sha256"), createHash("sha256")];
    const insert = database.prepare("INSERT INTO run (first, pages, content) VALUES (?, ?, ?)");
    let unsent = 0;
    const runs = createRuns((first, pages, content) => {
      insert.run(first, pages, content);
      unsent += content.length;
      if (unsent < FLUSHED_BYTES) return;
      unsent = 0;
      database.exec("COMMIT; BEGIN");
      const begun = performance.now();
      fdatasyncSync(handle);
      pauseHere(pauseAfter(begun));
    });
    database.exec("BEGIN");
    const [pages, basePages] = [pageCount(copy.bytes), pageCount(base?.pages.bytes ?? 0)];
    for (let number = 0; number < Math.max(pages, basePages); number += 1) {
      const below = number < basePages ? base?.pages.page(number) : undefined;
      if (below) under.update(below);
      if (number >= pages) continue;
      const page = copy.page(number);
      own.update(page);
      if (!below?.equals(page)) runs.add(number, page);
    }
    runs.end();
    const sha256 = own.digest("hex");
    const baseSha256 = base === null ? null : under.digest("hex");
    database
      .prepare("INSERT INTO copy (bytes, sha256, base, base_sha256) VALUES (?, ?, ?, ?)")
      .run(copy.bytes, sha256, base?.stem ?? null, baseSha256);
    database.exec("COMMIT");
    return { sha256, baseSha256 };
  } finally {
    database.close();
    closeSync(handle);
  }
}
