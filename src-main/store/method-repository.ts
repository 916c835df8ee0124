import { Method } from "#core/contract/records/method.ts";
import { all, one, type ReadableDb, type Row, run, type WritableDb } from "./connection.ts";
import { nameKey } from "./name-key.ts";

const COLUMNS = `id, family_id AS "familyId", version, definition_json AS definition, defined_at AS "definedAt",
  defined_by AS "definedBy"`;

function methodOf(row: Row): Method {
  return Method.parse({ ...row, definition: JSON.parse(String(row.definition)) });
}

/** The newest version of every method, in the order in which they were first defined. */
export function listNewestMethods(db: ReadableDb): Method[] {
  return all(
    db,
    `SELECT ${COLUMNS} FROM method m
     WHERE version = (SELECT max(version) FROM method n WHERE n.family_id = m.family_id)
     ORDER BY (SELECT min(rowid) FROM method n WHERE n.family_id = m.family_id)`,
  ).map(methodOf);
}

export function findMethod(db: ReadableDb, id: string): Method | null {
  const row = one(db, `SELECT ${COLUMNS} FROM method WHERE id = ?`, id);
  return row ? methodOf(row) : null;
}

export function newestOfFamily(db: ReadableDb, familyId: string): Method | null {
  const row = one(
    db,
    `SELECT ${COLUMNS} FROM method WHERE family_id = ? ORDER BY version DESC LIMIT 1`,
    familyId,
  );
  return row ? methodOf(row) : null;
}

export function insertMethod(db: WritableDb, method: Method): void {
  run(
    db,
    `INSERT INTO method (id, family_id, version, name_key, definition_json, defined_at, defined_by)
     VALUES (?, ?, ?, ?, ?, ?, ?)`,
    method.id,
    method.familyId,
    method.version,
    nameKey(method.definition.name),
    JSON.stringify(method.definition),
    method.definedAt,
    method.definedBy,
  );
}

/** Every version of every method as it is stored, with whatever its definition held when it was written. */
export function listMethodsAsStored(db: ReadableDb): {
  readonly id: string;
  readonly familyId: string;
  readonly version: number;
  readonly definition: unknown;
}[] {
  return all(db, `SELECT ${COLUMNS} FROM method ORDER BY rowid`).map((row) => ({
    id: String(row.id),
    familyId: String(row.familyId),
    version: Number(row.version),
    definition: JSON.parse(String(row.definition)),
  }));
}
