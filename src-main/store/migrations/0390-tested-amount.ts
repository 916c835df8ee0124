import type { Migration } from "./migration.ts";

/** What the specimens of a sheet come from, as typed: containers pooled, mL tested, per cent of it looked at. */
export const testedAmount: Migration = {
  version: 390,
  name: "amount tested of a sheet",
  sql: `
ALTER TABLE sheet ADD COLUMN containers TEXT CHECK (containers <> '');
ALTER TABLE sheet ADD COLUMN volume TEXT CHECK (volume <> '');
ALTER TABLE sheet ADD COLUMN portion TEXT CHECK (portion <> '');
`,
};
