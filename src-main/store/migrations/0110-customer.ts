import type { Migration } from "./migration.ts";

/** For whom a sheet or a count is made, as the report names them; NULL where nobody is named. */
export const customer: Migration = {
  version: 110,
  name: "customer of a sheet and of a count",
  sql: `
ALTER TABLE sheet ADD COLUMN customer TEXT CHECK (customer <> '');
ALTER TABLE tally ADD COLUMN customer TEXT CHECK (customer <> '');
`,
};
