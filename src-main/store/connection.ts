import type { Database, Statement } from "better-sqlite3";

declare const readable: unique symbol;
declare const writable: unique symbol;

/** A connection that a function only reads through. */
export interface ReadableDb {
  readonly [readable]: true;
}

/** Proof of standing inside a transaction that may write; made by `immediate` alone and not kept beyond it. */
export interface WritableDb extends ReadableDb {
  readonly [writable]: true;
}

/** The bench's own connection: reads at any time, writes through `immediate`. */
export interface BenchDb extends ReadableDb {
  readonly bench: true;
}

/** Numbers are bound into INTEGER columns only: bound into TEXT, SQLite would store `1` as `1.0`. */
export type Bound = string | number | bigint | null | Uint8Array;
export type Row = Readonly<Record<string, unknown>>;

const statements = new WeakMap<object, Map<string, Statement>>();

/** The driver's connection behind a brand; for the files of this folder. */
export function driverOf(db: ReadableDb): Database {
  return db as unknown as Database;
}

export function asBenchDb(database: Database): BenchDb {
  return database as unknown as BenchDb;
}

export function asReadableDb(database: Database): ReadableDb {
  return database as unknown as ReadableDb;
}

/** For a step of a migration, which stands inside a transaction of its own. */
export function asWritableDb(database: Database): WritableDb {
  return database as unknown as WritableDb;
}

/**
 * SQLite 3.54 plans a joined or ordered statement anew at every execution whose bound value the planner has looked at
 * (`column = ?`), which takes longer than most statements themselves. Behind a unary plus, which changes nothing in a
 * value, it does not look.
 */
export function plannedOnce(sql: string): string {
  return sql.replace(/(?<=[=<>]\s|\b(?:BETWEEN|AND)\s)(?=\?)/g, "+");
}

/** Each statement is prepared once per connection; `sql` asks through it. */
export function prepared(db: ReadableDb, sql: string): Statement {
  let cache = statements.get(db);
  if (!cache) {
    cache = new Map();
    statements.set(db, cache);
  }
  let statement = cache.get(sql);
  if (!statement) {
    statement = driverOf(db).prepare(plannedOnce(sql));
    cache.set(sql, statement);
  }
  return statement;
}

let commits = 0;

/** How many transactions this program has committed, on whatever connection: tells whether something was written meanwhile. */
export function commitsSoFar(): number {
  return commits;
}

/**
 * Runs `act` in one immediate transaction: committed, and with `synchronous=FULL` on disk, when it returns; rolled back
 * when it throws. `act` is synchronous, because a transaction must not wait for anything.
 */
export function immediate<T>(db: BenchDb, act: (db: WritableDb) => T): T {
  const driver = driverOf(db);
  const value = driver.transaction(() => act(db as unknown as WritableDb)).immediate();
  commits += 1;
  return value;
}
