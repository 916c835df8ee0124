import type { Migration } from "./migration.ts";

/** What stood in the way of a count's train when it was used all the same; none is known of counts opened before. */
export const countTrainCautions: Migration = {
  version: 90,
  name: "cautions about the train of a count",
  sql: `
ALTER TABLE tally ADD COLUMN train_cautions_json TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(train_cautions_json));
`,
};
