import type Database from "better-sqlite3";
import { withRawDatabase } from "./raw-database.ts";

type Value = string | number | null | Uint8Array;

/** One value of one row changed as somebody with a database tool would change it. */
export interface Tampering {
  readonly table: string;
  readonly column: string;
  readonly key: Readonly<Record<string, Value>>;
  readonly from: Value;
  readonly to: Value;
}

export function tablesOf(database: Database.Database): string[] {
  return database
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name")
    .pluck()
    .all() as string[];
}

export function columnsOf(database: Database.Database, table: string): string[] {
  return database
    .prepare("SELECT name FROM pragma_table_info(?) ORDER BY cid")
    .pluck()
    .all(table) as string[];
}

/** The last character a person would change: a digit to the next one, a letter to another. */
function changedAt(text: string, place: number): string {
  const old = text[place] ?? "";
  const now = /[0-9]/.test(old) ? String((Number(old) + 1) % 10) : old === "x" ? "y" : "x";
  return text.slice(0, place) + now + text.slice(place + 1);
}

function changedText(text: string): string {
  // Of an instant the last digit stands before its Z.
  const end = /\d\.\d{3}Z$/.test(text) ? text.length - 2 : text.length - 1;
  return text === "" ? "x" : changedAt(text, end);
}

function changedBytes(bytes: Uint8Array): Uint8Array {
  const changed = Buffer.from(bytes);
  changed[changed.length - 1] = (changed.at(-1) ?? 0) ^ 1;
  return changed;
}

type Path = readonly (string | number)[];

function leavesOf(value: unknown, path: Path = []): Path[] {
  if (typeof value !== "object" || value === null) return [path];
  return Object.entries(value).flatMap(([key, inner]) => leavesOf(inner, [...path, key]));
}

function withLeaf(value: unknown, [key, ...rest]: Path): unknown {
  if (key === undefined) {
    if (typeof value === "string") return changedText(value);
    if (typeof value === "number") return value + 1;
    return typeof value === "boolean" ? !value : "x";
  }
  const copy: Record<string, unknown> = Array.isArray(value)
    ? (value.slice() as unknown as Record<string, unknown>)
    : { ...(value as Record<string, unknown>) };
  copy[key] = withLeaf(copy[key], rest);
  return copy;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
}

/** What a value may be changed to: of a record in JSON each of its leaves in turn, of anything else its last sign. */
function changesOf(value: Value): Value[] {
  if (typeof value === "number") return [value + 1];
  if (value === null) return [];
  if (value instanceof Uint8Array) return [changedBytes(value)];
  const record = /^[[{]/.test(value) ? parsed(value) : value;
  if (typeof record !== "object" || record === null) return [changedText(value)];
  const leaves = leavesOf(record);
  if (leaves.length === 1 && leaves[0]?.length === 0) return [];
  if (leaves.length === 0) return [JSON.stringify(Array.isArray(record) ? ["x"] : { x: "x" })];
  return leaves.map((path) => JSON.stringify(withLeaf(record, path)));
}

function keyOf(
  database: Database.Database,
  table: string,
  row: Record<string, Value>,
): Record<string, Value> {
  const names = database
    .prepare("SELECT name FROM pragma_table_info(?) WHERE pk > 0")
    .pluck()
    .all(table) as string[];
  return Object.fromEntries(names.map((name) => [name, row[name] ?? null]));
}

/** Every change of one value in every row of a table. */
export function tamperingsOf(database: Database.Database, table: string): Tampering[] {
  const rows = database.prepare(`SELECT * FROM "${table}"`).all() as Record<string, Value>[];
  return rows.flatMap((row) =>
    Object.entries(row).flatMap(([column, from]) =>
      changesOf(from).map((to) => ({ table, column, key: keyOf(database, table, row), from, to })),
    ),
  );
}

function whereOf(key: Tampering["key"]): string {
  return Object.keys(key)
    .map((name) => `"${name}" IS :key_${name}`)
    .join(" AND ");
}

function boundBy(key: Tampering["key"]): Record<string, Value> {
  return Object.fromEntries(Object.entries(key).map(([name, value]) => [`key_${name}`, value]));
}

/** Takes every trigger, check and reference out of the way. */
export function unguard(database: Database.Database): void {
  database.pragma("foreign_keys = OFF");
  database.pragma("ignore_check_constraints = ON");
  const triggers = database
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'trigger'")
    .pluck()
    .all() as string[];
  for (const name of triggers) database.exec(`DROP TRIGGER "${name}"`);
}

/** @returns false where another row has that key already */
export function change(file: string, { table, column, key, to }: Tampering): boolean {
  return withRawDatabase(file, (database) => {
    unguard(database);
    const update = database.prepare(`UPDATE "${table}" SET "${column}" = :to WHERE ${whereOf(key)}`);
    try {
      return update.run({ ...boundBy(key), to }).changes === 1;
    } catch (error) {
      if (error instanceof Error && /UNIQUE|PRIMARY KEY|datatype mismatch/.test(error.message)) return false;
      throw error;
    }
  });
}

export function deleteRow(file: string, table: string, key: Tampering["key"]): void {
  withRawDatabase(file, (database) => {
    unguard(database);
    database.prepare(`DELETE FROM "${table}" WHERE ${whereOf(key)}`).run(boundBy(key));
  });
}

/** The keys of every row of a table. */
export function keysOf(database: Database.Database, table: string): Tampering["key"][] {
  const rows = database.prepare(`SELECT * FROM "${table}"`).all() as Record<string, Value>[];
  return rows.map((row) => keyOf(database, table, row));
}
