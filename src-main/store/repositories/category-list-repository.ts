import { CategoryList } from "#core/contract/records/category-list.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { firstText, insert, sql } from "../sql.ts";
import { versionsIn } from "./method-versions.ts";

export const storedCategoryLists = versionsIn("category_list", (row) => CategoryList.parse(row));

export function insertCategoryList(db: WritableDb, list: CategoryList): void {
  insert(db, "category_list", {
    id: list.id,
    family_id: list.familyId,
    version: list.version,
    definition_json: JSON.stringify(list.definition),
    defined_at: list.definedAt,
    defined_by: list.definedBy,
  });
}

export function categoryListIds(db: ReadableDb): string[] {
  return sql`SELECT id FROM category_list ORDER BY rowid`.all(db, firstText);
}

/** Counts that are not closed and whose categories came from any version of a list. */
export function openCountsByList(db: ReadableDb, familyId: string): string[] {
  return sql`SELECT t.id FROM tally t JOIN category_list l ON l.id = t.category_list_id
    WHERE l.family_id = ${familyId} AND t.state <> 'closed' ORDER BY t.ordinal`.all(db, firstText);
}
