import { date, instant, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** An eyepiece with its reticle is lent and brought back; whoever brings it back may state that nothing was changed. */
export const lentEyepieces: Migration = {
  version: 410,
  name: "eyepieces lent and brought back",
  rebuildsTables: true,
  sql: `
CREATE TABLE equipment_event_new (
  id TEXT NOT NULL PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('serviced', 'knocked', 'reticle removed', 'head changed', 'eyepiece moved',
    'new person', 'lent', 'brought back', 'other')),
  subject_kind TEXT NOT NULL CHECK (subject_kind IN ('microscope', 'objective', 'eyepiece')),
  subject_id TEXT NOT NULL,
  happened_on TEXT NOT NULL ${date("happened_on")},
  words TEXT NOT NULL,
  unchanged INTEGER NOT NULL CHECK (unchanged IN (0, 1)),
  recorded_at TEXT NOT NULL ${instant("recorded_at")},
  recorded_by TEXT NOT NULL REFERENCES person (id),
  CHECK (kind NOT IN ('lent', 'brought back') OR subject_kind = 'eyepiece'),
  CHECK (unchanged = 0 OR kind = 'brought back')
) STRICT;
INSERT INTO equipment_event_new
  SELECT id, kind, subject_kind, subject_id, happened_on, words, 0, recorded_at, recorded_by
  FROM equipment_event ORDER BY rowid;
DROP TABLE equipment_event;
ALTER TABLE equipment_event_new RENAME TO equipment_event;
CREATE INDEX equipment_event_by_subject ON equipment_event (subject_id);
${never("equipment_event_stays", "UPDATE", "equipment_event", "", "an event is not edited")}
${never("equipment_event_not_deleted", "DELETE", "equipment_event", "", "an event is not deleted")}
`,
};
