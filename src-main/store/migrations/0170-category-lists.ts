import { instant, json, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** Lists of categories that methods and counts take over; a count knows the version its categories came from. */
export const categoryLists: Migration = {
  version: 170,
  name: "category lists",
  sql: `
CREATE TABLE category_list (
  id TEXT NOT NULL PRIMARY KEY,
  family_id TEXT NOT NULL,
  version INTEGER NOT NULL CHECK (version >= 1),
  definition_json TEXT NOT NULL ${json("definition_json")},
  defined_at TEXT NOT NULL ${instant("defined_at")},
  defined_by TEXT NOT NULL REFERENCES person (id),
  UNIQUE (family_id, version)
) STRICT;
${never("category_list_stays", "UPDATE", "category_list", "", "a category list is not changed: define its next version")}
${never("category_list_not_deleted", "DELETE", "category_list", "", "a category list is not deleted")}
ALTER TABLE tally ADD COLUMN category_list_id TEXT REFERENCES category_list (id);
`,
};
