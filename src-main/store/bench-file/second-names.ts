import { statSync } from "node:fs";
import Database from "better-sqlite3";
import { BenchUnopenable } from "./bench-unopenable.ts";
import { failureKind } from "./store-failure.ts";

/**
 * True where nobody has the file open, under whatever name. SQLite locks the file itself, not its name; a connection that
 * wants it for itself gets it only when there is no other.
 */
function isOpenNowhere(databaseFile: string): boolean {
  const database = new Database(databaseFile, { fileMustExist: true, timeout: 0 });
  try {
    database.pragma("locking_mode = EXCLUSIVE");
    database.prepare("SELECT count(*) FROM sqlite_schema").get();
    return true;
  } catch (error) {
    if (failureKind(error) === "busy") return false;
    throw error;
  } finally {
    database.close();
  }
}

/**
 * A bench's file that has further names by hard links: lock, -wal and holder lie beside each name and know nothing of each
 * other. @returns what to tell the person; empty for a file of one name
 * @throws BenchUnopenable `bench.locked` while it is open under another name: two -wal files would damage it
 */
export function secondNames(databaseFile: string): string[] {
  const names = statSync(databaseFile).nlink;
  if (names < 2) return [];
  if (!isOpenNowhere(databaseFile)) {
    throw new BenchUnopenable({
      code: "bench.locked",
      message: `The bench ${databaseFile} is open under another name: its file has ${names} names on this disk (hard links).`,
      hint: "Close it there. Then keep one name and remove the others, or put a copy in the place of one of them. The file was left as it is.",
    });
  }
  return [
    `The file of this bench has ${names} names on this disk (hard links): what is stored under one of them is not seen to be the same under another, and after a power cut that can damage it. Close the program and put a copy in the place of the other name, or remove that name.`,
  ];
}
