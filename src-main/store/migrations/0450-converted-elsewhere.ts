import type { Migration } from "./migration.ts";

/** Sizes of a row that came in micrometres, and by what they were converted: JSON of `SizesElsewhere`. */
export const convertedElsewhere: Migration = {
  version: 450,
  name: "sizes converted elsewhere",
  sql: `
ALTER TABLE specimen_row ADD COLUMN elsewhere_json TEXT
  CHECK (elsewhere_json IS NULL OR (json_valid(elsewhere_json) AND json_type(elsewhere_json) = 'object'));
`,
};
