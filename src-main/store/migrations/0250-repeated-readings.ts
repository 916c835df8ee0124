import type { Migration } from "./migration.ts";

/** Readings taken more than once are found without looking at every reading of a person. */
export const repeatedReadings: Migration = {
  version: 250,
  name: "repeated readings are found",
  sql: `
CREATE INDEX measurement_repeated ON measurement (entered_by, entered_at) WHERE repeats_json <> '[]';
`,
};
