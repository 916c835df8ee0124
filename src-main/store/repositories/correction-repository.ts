import type {
  CorrectableField,
  CorrectableKind,
  CorrectionSubject,
} from "#core/contract/records/correction.ts";
import { one, type ReadableDb, run, type WritableDb } from "../connection.ts";
import { nameKey } from "../name-key.ts";

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
  const row = one(db, `SELECT ${field} AS word FROM ${TABLE_OF[kind]} WHERE id = ?`, id);
  return row ? String(row.word ?? "") : null;
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
  const row = one(db, `SELECT ${key.fields.join(", ")} FROM ${TABLE_OF[kind]} WHERE id = ?`, id);
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
  const table = TABLE_OF[subject.kind];
  return one(db, `SELECT 1 FROM ${table} WHERE ${column} = ? AND id <> ?`, key, subject.id) !== undefined;
}

export function correctWord(
  db: WritableDb,
  subject: CorrectionSubject,
  field: CorrectableField,
  word: string,
): void {
  const table = TABLE_OF[subject.kind];
  const key = keyWith(db, subject, field, word);
  // A customer who is not named is none.
  run(
    db,
    `UPDATE ${table} SET ${field} = ? WHERE id = ?`,
    field === "customer" && word === "" ? null : word,
    subject.id,
  );
  if (key !== null)
    run(db, `UPDATE ${table} SET ${KEY_OF[subject.kind]?.column} = ? WHERE id = ?`, key, subject.id);
}
