import type { Database } from "better-sqlite3";

/** One step of the database's history. A released step is never edited: a test compares its SHA-256. */
export interface Migration {
  /** 10, 20, 30 …; becomes the file's `user_version`. */
  readonly version: number;
  readonly name: string;
  readonly sql: string;
  /** After `sql`, what SQL alone cannot do; a page at a time, for a bench may be large. */
  readonly rewrite?: (database: Database, tell: (done: number, parts: number) => void) => void;
  /** SQL after `rewrite`. */
  readonly afterwards?: string;
  /** True for a step that rebuilds tables: foreign keys are switched off around it and checked before it commits. */
  readonly rebuildsTables?: boolean;
}
