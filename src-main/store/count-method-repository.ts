import { CountMethod } from "#core/contract/records/count-method.ts";
import { all, one, type ReadableDb, type Row, run, type WritableDb } from "./connection.ts";

const COLUMNS = `id, family_id AS "familyId", version, definition_json AS definition, defined_at AS "definedAt",
  defined_by AS "definedBy"`;

function methodOf(row: Row): CountMethod {
  return CountMethod.parse({ ...row, definition: JSON.parse(String(row.definition)) });
}

/** The newest version of every count method, in the order in which they were first defined. */
export function listNewestCountMethods(db: ReadableDb): CountMethod[] {
  return all(
    db,
    `SELECT ${COLUMNS} FROM count_method m
     WHERE version = (SELECT max(version) FROM count_method n WHERE n.family_id = m.family_id)
     ORDER BY (SELECT min(rowid) FROM count_method n WHERE n.family_id = m.family_id)`,
  ).map(methodOf);
}

export function findCountMethod(db: ReadableDb, id: string): CountMethod | null {
  const row = one(db, `SELECT ${COLUMNS} FROM count_method WHERE id = ?`, id);
  return row ? methodOf(row) : null;
}

export function newestOfCountFamily(db: ReadableDb, familyId: string): CountMethod | null {
  const row = one(
    db,
    `SELECT ${COLUMNS} FROM count_method WHERE family_id = ? ORDER BY version DESC LIMIT 1`,
    familyId,
  );
  return row ? methodOf(row) : null;
}

export function insertCountMethod(db: WritableDb, method: CountMethod): void {
  run(
    db,
    `INSERT INTO count_method (id, family_id, version, definition_json, defined_at, defined_by)
     VALUES (?, ?, ?, ?, ?, ?)`,
    method.id,
    method.familyId,
    method.version,
    JSON.stringify(method.definition),
    method.definedAt,
    method.definedBy,
  );
}

export function countMethodIds(db: ReadableDb): string[] {
  return all(db, "SELECT id FROM count_method ORDER BY rowid").map((row) => String(row.id));
}
