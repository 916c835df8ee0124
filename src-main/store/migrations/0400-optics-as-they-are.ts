import { date, decimal, instant, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/**
 * An objective leaves its position of the turret to another one: of those on the turret each has its own. And what a
 * person last said of dioptre, sleeve and glasses when confirming a train.
 */
export const opticsAsTheyAre: Migration = {
  version: 400,
  name: "objectives replaced at their position, eyes of a person at a train",
  rebuildsTables: true,
  sql: `
CREATE TABLE objective_new (
  id TEXT NOT NULL PRIMARY KEY,
  microscope_id TEXT NOT NULL REFERENCES microscope (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 12),
  magnification TEXT NOT NULL ${decimal("magnification")},
  numerical_aperture TEXT ${decimal("numerical_aperture")},
  immersion TEXT NOT NULL CHECK (immersion IN ('dry', 'water', 'glycerol', 'oil')),
  serial TEXT NOT NULL,
  replaced_on TEXT ${date("replaced_on")},
  replaced_by TEXT UNIQUE REFERENCES objective (id) DEFERRABLE INITIALLY DEFERRED CHECK (replaced_by <> id),
  CHECK ((replaced_on IS NULL) = (replaced_by IS NULL))
) STRICT;
INSERT INTO objective_new (id, microscope_id, position, magnification, numerical_aperture, immersion, serial)
  SELECT id, microscope_id, position, magnification, numerical_aperture, immersion, serial
  FROM objective ORDER BY rowid;
DROP TABLE objective;
ALTER TABLE objective_new RENAME TO objective;
CREATE UNIQUE INDEX objective_on_turret ON objective (microscope_id, position) WHERE replaced_on IS NULL;
CREATE INDEX objective_by_microscope ON objective (microscope_id);
${never(
  "objective_replaced_stays",
  "UPDATE OF replaced_on, replaced_by",
  "objective",
  "WHEN OLD.replaced_on IS NOT NULL",
  "a replacement is not edited",
)}

CREATE TABLE eyes_at_train (
  person_id TEXT NOT NULL REFERENCES person (id),
  train_id TEXT NOT NULL REFERENCES optical_train (id),
  dioptre TEXT NOT NULL,
  sleeve TEXT NOT NULL,
  glasses TEXT NOT NULL CHECK (glasses IN ('with', 'without', 'not said')),
  at TEXT NOT NULL ${instant("at")},
  PRIMARY KEY (person_id, train_id)
) STRICT, WITHOUT ROWID;
`,
};
