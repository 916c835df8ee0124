import { instant, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** People who left are set aside and may come back, each time with a reason; their records keep their name. */
export const peopleSetAside: Migration = {
  version: 330,
  name: "people set aside",
  sql: `
CREATE TABLE person_standing (
  id INTEGER NOT NULL PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES person (id),
  standing TEXT NOT NULL CHECK (standing IN ('working here', 'set aside')),
  reason TEXT NOT NULL CHECK (reason <> ''),
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX person_standing_by_person ON person_standing (person_id, id);
${never("person_standing_stays", "UPDATE", "person_standing", "", "a change of standing is not edited")}
${never("person_standing_not_deleted", "DELETE", "person_standing", "", "a change of standing is not deleted")}
`,
};
