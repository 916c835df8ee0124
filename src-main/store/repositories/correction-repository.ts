import {
  type CorrectableField,
  type CorrectableKind,
  type CorrectionSubject,
  keptWord,
} from "#core/contract/records/correction.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { nameKey } from "../name-key.ts";
import { joined, named, sql } from "../sql.ts";

/** The table of each kind. */
const TABLE_OF: Readonly<Record<CorrectableKind, string>> = {
  person: "person",
  microscope: "microscope",
  objective: "objective",
  eyepiece: "eyepiece",
  "stage micrometer": "stage_micrometer",
  sheet: "sheet",
  count: "tally",
};

/** The words a record is told from others of its kind by, and where their key stands. */
const KEY_OF: {
  readonly [K in CorrectableKind]?: { readonly column: string; readonly fields: readonly string[] };
} = {
  person: { column: "name_key", fields: ["name"] },
  microscope: { column: "name_key", fields: ["name"] },
  "stage micrometer": { column: "identity_key", fields: ["maker", "serial"] },
};

/** The word as it stands, empty where there is none; null: there is no such record. */
export function wordOf(
  db: ReadableDb,
  { kind, id }: CorrectionSubject,
  field: CorrectableField,
): string | null {
  return sql`SELECT ${named(field)} AS word FROM ${named(TABLE_OF[kind])} WHERE id = ${id}`.one(db, (row) =>
    String(row.word ?? ""),
  );
}

/** The key the record would have with that word; null where the word does not tell records apart. */
function keyWith(
  db: ReadableDb,
  { kind, id }: CorrectionSubject,
  field: CorrectableField,
  word: string,
): string | null {
  const key = KEY_OF[kind];
  if (!key?.fields.includes(field)) return null;
  const row =
    sql`SELECT ${joined(key.fields.map(named), ", ")} FROM ${named(TABLE_OF[kind])} WHERE id = ${id}`.one(db);
  const [first = "", ...others] = key.fields.map((one) => String((one === field ? word : row?.[one]) ?? ""));
  return nameKey(first, ...others);
}

/** Whether another record of the kind would then be the same by name or number. */
export function isTakenByAnother(
  db: ReadableDb,
  subject: CorrectionSubject,
  field: CorrectableField,
  word: string,
): boolean {
  const key = keyWith(db, subject, field, word);
  const column = KEY_OF[subject.kind]?.column;
  if (key === null || column === undefined) return false;
  const table = named(TABLE_OF[subject.kind]);
  return sql`SELECT 1 FROM ${table} WHERE ${named(column)} = ${key} AND id <> ${subject.id}`.exists(db);
}

export function correctWord(
  db: WritableDb,
  subject: CorrectionSubject,
  field: CorrectableField,
  word: string,
): void {
  const table = named(TABLE_OF[subject.kind]);
  const key = keyWith(db, subject, field, word);
  const column = KEY_OF[subject.kind]?.column;
  sql`UPDATE ${table} SET ${named(field)} = ${keptWord(field, word)} WHERE id = ${subject.id}`.run(db);
  if (key !== null && column !== undefined)
    sql`UPDATE ${table} SET ${named(column)} = ${key} WHERE id = ${subject.id}`.run(db);
}
