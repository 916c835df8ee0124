import { CountMethod } from "#core/contract/records/count-method.ts";
import { all, type ReadableDb, run, type WritableDb } from "../connection.ts";
import { versionsIn } from "./method-versions.ts";

export const storedCountMethods = versionsIn("count_method", (row) => CountMethod.parse(row));

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
