import { Method } from "#core/contract/records/method.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { nameKey } from "../name-key.ts";
import { insert, sql } from "../sql.ts";
import { VERSION_COLUMNS, versionOf, versionsIn } from "./method-versions.ts";

export const storedMethods = versionsIn("method", (row) => Method.parse(row));

export function insertMethod(db: WritableDb, method: Method): void {
  insert(db, "method", {
    id: method.id,
    family_id: method.familyId,
    version: method.version,
    name_key: nameKey(method.definition.name),
    definition_json: JSON.stringify(method.definition),
    defined_at: method.definedAt,
    defined_by: method.definedBy,
  });
}

/** Every version of every method as it is stored, with whatever its definition held when it was written. */
export function listMethodsAsStored(db: ReadableDb): {
  readonly id: string;
  readonly familyId: string;
  readonly version: number;
  readonly definition: unknown;
  readonly definedAt: string;
  readonly definedBy: string;
}[] {
  return sql`SELECT ${VERSION_COLUMNS} FROM method ORDER BY rowid`.all(db).map((row) => ({
    id: String(row.id),
    familyId: String(row.familyId),
    version: Number(row.version),
    definition: versionOf(row).definition,
    definedAt: String(row.definedAt),
    definedBy: String(row.definedBy),
  }));
}
