import { instant, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** What a factor of this bench may change by; the latest decision counts, the earlier ones stay to be read. */
export const trendTolerance: Migration = {
  version: 50,
  name: "trend tolerance",
  sql: `
CREATE TABLE trend_tolerance (
  id TEXT NOT NULL PRIMARY KEY,
  percent TEXT NOT NULL CHECK (percent GLOB '[0-9]*' AND percent NOT GLOB '*[^0-9.]*' AND percent NOT GLOB '*.*.*'),
  reason TEXT NOT NULL,
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id)
) STRICT;
${never("trend_tolerance_stays", "UPDATE", "trend_tolerance", "", "a decision is not edited: make a new one")}
${never("trend_tolerance_not_deleted", "DELETE", "trend_tolerance", "", "a decision is not deleted")}
`,
};
