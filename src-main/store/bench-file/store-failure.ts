import Database from "better-sqlite3";

export type FailureKind = "disk-full" | "read-only" | "damaged" | "busy";

const KIND_OF_CODE: readonly (readonly [RegExp, FailureKind])[] = [
  [/^(SQLITE_FULL|ENOSPC|EDQUOT)/, "disk-full"],
  [
    /^(SQLITE_READONLY|SQLITE_CANTOPEN|SQLITE_PERM|SQLITE_AUTH|SQLITE_IOERR|EACCES|EPERM|EROFS|EIO|ENOTDIR|EEXIST|ENOENT|EISDIR|EBUSY)/,
    "read-only",
  ],
  [/^(SQLITE_CORRUPT|SQLITE_NOTADB|SQLITE_FORMAT)/, "damaged"],
  [/^(SQLITE_BUSY|SQLITE_LOCKED)/, "busy"],
];

/** What kind of failure of the machine an error is; null when it is none, so a defect of ours. */
export function failureKind(error: unknown): FailureKind | null {
  if (!(error instanceof Error)) return null;
  const isSystem = error instanceof Database.SqliteError || "syscall" in error;
  const code = isSystem && "code" in error ? String(error.code) : "";
  return KIND_OF_CODE.find(([pattern]) => pattern.test(code))?.[1] ?? null;
}

/** What SQLite says when a record breaks a rule of its table; null for every other failure. */
export function contradictionIn(error: unknown): string | null {
  const broken = error instanceof Database.SqliteError && error.code.startsWith("SQLITE_CONSTRAINT");
  return broken ? error.message : null;
}
