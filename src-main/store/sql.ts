import { type Bound, prepared, type ReadableDb, type Row, type WritableDb } from "./connection.ts";

/** What makes a record of a row: its schema, or a function where a schema would cost time. */
export type Reader<T> = { parse(row: unknown): T } | ((row: Row) => T);

function readerOf<T>(reader: Reader<T>): (row: Row) => T {
  return typeof reader === "function" ? reader : (row) => reader.parse(row);
}

/** A statement or a part of one, with the values of its holes in order. */
export class Query {
  readonly text: string;
  readonly bound: readonly Bound[];

  constructor(text: string, bound: readonly Bound[] = []) {
    this.text = text;
    this.bound = bound;
  }

  /** Every row, as `reader` reads it. */
  all(db: ReadableDb): Row[];
  all<T>(db: ReadableDb, reader: Reader<T>): T[];
  all<T>(db: ReadableDb, reader?: Reader<T>): (Row | T)[] {
    const rows = prepared(db, this.text).all(...this.bound) as Row[];
    return reader ? rows.map(readerOf(reader)) : rows;
  }

  /** The first row, as `reader` reads it; null where there is none. */
  one(db: ReadableDb): Row | null;
  one<T>(db: ReadableDb, reader: Reader<T>): T | null;
  one<T>(db: ReadableDb, reader?: Reader<T>): Row | T | null {
    const row = prepared(db, this.text).get(...this.bound) as Row | undefined;
    if (row === undefined) return null;
    return reader ? readerOf(reader)(row) : row;
  }

  /** Whether there is a row. */
  exists(db: ReadableDb): boolean {
    return this.one(db) !== null;
  }

  /** The number in the first column of the one row there is; 0 where it holds nothing. */
  number(db: ReadableDb): number {
    return Number(Object.values(this.one(db) ?? {})[0] ?? 0);
  }

  /** Row by row, for results too long to hold; the connection can do nothing else until it is read to its end. */
  each(db: ReadableDb): IterableIterator<Row> {
    return prepared(db, this.text).iterate(...this.bound) as IterableIterator<Row>;
  }

  /** Runs a writing statement; answers the number of rows changed. */
  run(db: WritableDb): number {
    return prepared(db, this.text).run(...this.bound).changes;
  }

  /** How SQLite would run it, one line per step; for the tests of hot queries. */
  explain(db: ReadableDb): string {
    const steps = prepared(db, `EXPLAIN QUERY PLAN ${this.text}`).all(...this.bound);
    return (steps as { detail: string }[]).map((step) => step.detail).join("\n");
  }
}

/** Reads a row by its one column. */
export const firstText = (row: Row): string => String(Object.values(row)[0]);

/** Texts of statements that no part goes into, made once: the strings of a literal are one object for its place. */
const texts = new WeakMap<TemplateStringsArray, string>();

/**
 * Each value where it is used: sql`SELECT name FROM person WHERE id = ${id}`. A `Query` in a hole becomes part of the
 * text, with its own values; everything else is bound and never becomes text.
 */
export function sql(strings: TemplateStringsArray, ...holes: readonly (Bound | Query)[]): Query {
  if (!holes.some((hole) => hole instanceof Query)) {
    let whole = texts.get(strings);
    if (whole === undefined) {
      whole = strings.join("?");
      texts.set(strings, whole);
    }
    return new Query(whole, holes as readonly Bound[]);
  }
  let text = strings[0] ?? "";
  const bound: Bound[] = [];
  holes.forEach((hole, at) => {
    const part = hole instanceof Query;
    if (part) bound.push(...hole.bound);
    else bound.push(hole);
    text += `${part ? hole.text : "?"}${strings[at + 1]}`;
  });
  return new Query(text, bound);
}

/** The name of a table or column, which is known to the program and not typed by anybody. */
export function named(name: string): Query {
  return new Query(`"${name}"`);
}

export function joined(parts: readonly Query[], between: string): Query {
  const text = parts.map((part) => part.text).join(between);
  return new Query(
    text,
    parts.flatMap(({ bound }) => bound),
  );
}

/**
 * Adds one row, each value beside its column; a part of SQL stands for what the bench computes.
 * @param again what happens where the row is there already: with the columns that it is known by, the others are set as
 *   given; `once` leaves it as it is; otherwise nothing is written and the driver's error is thrown
 */
export function insert(
  db: WritableDb,
  table: string,
  row: Readonly<Record<string, Bound | Query>>,
  again?: readonly string[] | "once",
): void {
  const columns = Object.keys(row);
  const values = Object.values(row);
  const bound = values.flatMap((value) => (value instanceof Query ? value.bound : [value]));
  const holes = values.map((value) => (value instanceof Query ? value.text : "?")).join(", ");
  const into = `INSERT INTO ${table} ("${columns.join('", "')}") VALUES (${holes})`;
  new Query(into + onConflict(columns, again), bound).run(db);
}

function onConflict(columns: readonly string[], again?: readonly string[] | "once"): string {
  if (again === undefined) return "";
  if (again === "once") return " ON CONFLICT DO NOTHING";
  const others = columns.filter((name) => !again.includes(name));
  const set = others.map((name) => `"${name}" = excluded."${name}"`).join(", ");
  return ` ON CONFLICT ("${again.join('", "')}") DO UPDATE SET ${set}`;
}
