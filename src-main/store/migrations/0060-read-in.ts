import { instant, json, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** Which file a bench was read from, and the lines of the trail that came in it: they were written on another bench. */
export const readIn: Migration = {
  version: 60,
  name: "read in",
  sql: `
CREATE TABLE read_in (
  id TEXT NOT NULL PRIMARY KEY,
  record_json TEXT NOT NULL ${json("record_json")},
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id)
) STRICT;
${never("read_in_stays", "UPDATE", "read_in", "", "what was read in is not edited")}
${never("read_in_not_deleted", "DELETE", "read_in", "", "what was read in is not deleted")}

CREATE TABLE read_in_amendment (
  sheet_id TEXT NOT NULL REFERENCES sheet (id),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 1),
  line_json TEXT NOT NULL ${json("line_json")},
  PRIMARY KEY (sheet_id, ordinal)
) STRICT, WITHOUT ROWID;
${never("read_in_amendment_stays", "UPDATE", "read_in_amendment", "", "an amendment read in is not edited")}
${never("read_in_amendment_not_deleted", "DELETE", "read_in_amendment", "", "an amendment read in is not deleted")}
`,
};
