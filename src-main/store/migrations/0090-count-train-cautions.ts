import type { Migration } from "./migration.ts";

/**
 * What stood in the way of a count's train when it was used all the same; none is known of counts opened before.
 * The conversion of rows read without a factor is an amendment like the other acts on rows.
 */
export const countTrainCautions: Migration = {
  version: 90,
  name: "cautions about the train of a count, conversion of rows",
  sql: `
ALTER TABLE tally ADD COLUMN train_cautions_json TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(train_cautions_json));
DROP INDEX audit_line_amendment;
CREATE INDEX audit_line_amendment ON audit_line (subject_id, sequence)
  WHERE act IN ('rows.amend', 'rows.describe', 'rows.strike', 'rows.changeObjective', 'rows.convert', 'rows.undo',
    'rows.redo');
`,
};
