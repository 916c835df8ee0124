import { CategoryList } from "#core/contract/records/category-list.ts";
import { all, insert, type ReadableDb, type WritableDb } from "../connection.ts";
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
  return all(db, "SELECT id FROM category_list ORDER BY rowid").map((row) => String(row.id));
}

/** Counts that are not closed and whose categories came from any version of a list. */
export function openCountsByList(db: ReadableDb, familyId: string): string[] {
  return all(
    db,
    `SELECT t.id FROM tally t JOIN category_list l ON l.id = t.category_list_id
     WHERE l.family_id = ? AND t.state <> 'closed' ORDER BY t.ordinal`,
    familyId,
  ).map((row) => String(row.id));
}
