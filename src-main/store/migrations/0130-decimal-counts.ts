import { never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/**
 * Objects are kept as whole thousandths instead of half units, so that a counting unit may allow decimals and still adds up
 * exactly. What each press counted stays what it was, and with it the hashes, which hold the count as decimal text.
 */
export const decimalCounts: Migration = {
  version: 130,
  name: "counts in decimal units",
  sql: `
DROP TRIGGER tally_event_stays;
UPDATE tally_event SET half_units = half_units * 500 WHERE half_units IS NOT NULL;
UPDATE tally_field_count SET half_units = half_units * 500;
UPDATE tally_category_count SET half_units = half_units * 500;
ALTER TABLE tally_event RENAME COLUMN half_units TO thousandths;
ALTER TABLE tally_field_count RENAME COLUMN half_units TO thousandths;
ALTER TABLE tally_category_count RENAME COLUMN half_units TO thousandths;
${never(
  "tally_event_stays",
  "UPDATE OF tally_id, sequence, kind, field, category, thousandths, row_id, strikes, at, by_person, request_id, hash",
  "tally_event",
  "",
  "a press is struck, not changed",
)}
`,
};
