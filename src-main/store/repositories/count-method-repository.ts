import { CountMethod } from "#core/contract/records/count-method.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { firstText, insert, sql } from "../sql.ts";
import { versionsIn } from "./method-versions.ts";

export const storedCountMethods = versionsIn("count_method", (row) => CountMethod.parse(row));

export function insertCountMethod(db: WritableDb, method: CountMethod): void {
  insert(db, "count_method", {
    id: method.id,
    family_id: method.familyId,
    version: method.version,
    definition_json: JSON.stringify(method.definition),
    defined_at: method.definedAt,
    defined_by: method.definedBy,
  });
}

export function countMethodIds(db: ReadableDb): string[] {
  return sql`SELECT id FROM count_method ORDER BY rowid`.all(db, firstText);
}
