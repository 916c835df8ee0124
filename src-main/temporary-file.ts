import { basename, dirname, join } from "node:path";

/** SQLite's own files beside a database that is being written. */
const COMPANION = "(?:-wal|-shm|-journal)?";

/** A hidden name in the same folder, under which a file is written before it gets its own: it tells by which process. */
export function temporaryBeside(path: string): string {
  return join(dirname(path), `.${basename(path)}.${process.pid}-${Date.now().toString(36)}.part`);
}

/** Whether a name is one that `temporaryBeside` gave to a file of `path` in the process of that number. */
export function isTemporaryOf(name: string, path: string, pid: number): boolean {
  const start = `.${basename(path)}.${pid}-`;
  return (
    name.startsWith(start) && new RegExp(`^[0-9a-z]+\\.part${COMPANION}$`).test(name.slice(start.length))
  );
}
