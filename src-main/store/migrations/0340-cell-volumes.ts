import { json } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** Volumes of the counted cells, beside the results of a count. */
export const cellVolumes: Migration = {
  version: 340,
  name: "cell volumes of counts",
  sql: `
ALTER TABLE tally ADD COLUMN cell_volumes_json TEXT ${json("cell_volumes_json")};
`,
};
