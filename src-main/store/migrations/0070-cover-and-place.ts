import type { Migration } from "./migration.ts";

/** Of a stage micrometer: whether its scale lies under a cover glass, and where it is kept; NULL where not recorded. */
export const coverAndPlace: Migration = {
  version: 70,
  name: "cover and place of a stage micrometer",
  sql: `
ALTER TABLE stage_micrometer ADD COLUMN cover TEXT CHECK (cover IN ('under a cover glass', 'uncovered'));
ALTER TABLE stage_micrometer ADD COLUMN kept_at TEXT CHECK (kept_at <> '');
`,
};
