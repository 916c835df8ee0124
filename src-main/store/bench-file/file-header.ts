import { closeSync, openSync, readSync, statSync } from "node:fs";
import { APPLICATION_ID } from "./pragmas.ts";

/** Header layout: SQLite file format, section 1.3 (https://www.sqlite.org/fileformat2.html#the_database_header). */
const HEADER_BYTES = 100;
const MAGIC = "SQLite format 3\u0000";
const APPLICATION_ID_OFFSET = 68;

export type FileKind = "absent" | "empty" | "ours" | "other-database" | "no-database";

/** Says what a file is by its header alone: a file that is not ours is not touched by opening it. */
export function kindOfFile(path: string): FileKind {
  const size = statSync(path, { throwIfNoEntry: false })?.size;
  if (size === undefined) return "absent";
  if (size === 0) return "empty";
  const header = Buffer.alloc(HEADER_BYTES);
  const handle = openSync(path, "r");
  try {
    readSync(handle, header, 0, HEADER_BYTES, 0);
  } finally {
    closeSync(handle);
  }
  if (header.toString("latin1", 0, MAGIC.length) !== MAGIC) return "no-database";
  return header.readUInt32BE(APPLICATION_ID_OFFSET) === APPLICATION_ID ? "ours" : "other-database";
}
