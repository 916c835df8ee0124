import { instant, json } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** How each person wants the program: carried with the bench, no part of its records. */
export const ownSettings: Migration = {
  version: 290,
  name: "settings of each person",
  sql: `
CREATE TABLE person_settings (
  person_id TEXT NOT NULL PRIMARY KEY REFERENCES person (id),
  settings_json TEXT NOT NULL ${json("settings_json")},
  changed_at TEXT NOT NULL ${instant("changed_at")}
) STRICT, WITHOUT ROWID;
`,
};
