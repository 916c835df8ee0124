import { json } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** What control sample a count is. */
export const controlSamples: Migration = {
  version: 470,
  name: "control samples",
  sql: `
ALTER TABLE tally ADD COLUMN control_json TEXT ${json("control_json")};
`,
};
