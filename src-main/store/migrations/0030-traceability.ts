import { date, instant, json, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

const sha256 = (column: string): string =>
  `CHECK (length(${column}) = 64 AND ${column} NOT GLOB '*[^0-9a-f]*')`;

/** What happens to registered things after their registration; a later line never changes an earlier one. */
const equipment = `
CREATE TABLE service_state (
  id INTEGER NOT NULL PRIMARY KEY,
  item_kind TEXT NOT NULL CHECK (item_kind IN ('microscope', 'objective', 'eyepiece', 'stage micrometer')),
  item_id TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('in service', 'out of service')),
  from_on TEXT NOT NULL ${date("from_on")},
  reason TEXT NOT NULL,
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX service_state_by_item ON service_state (item_kind, item_id, id);
${never("service_state_stays", "UPDATE", "service_state", "", "a change of state is not edited")}
${never("service_state_not_deleted", "DELETE", "service_state", "", "a change of state is not deleted")}

CREATE TABLE certificate_replacement (
  certificate_id TEXT NOT NULL PRIMARY KEY REFERENCES certificate (id),
  replaced_by TEXT NOT NULL UNIQUE REFERENCES certificate (id),
  reason TEXT NOT NULL,
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id),
  CHECK (certificate_id <> replaced_by)
) STRICT, WITHOUT ROWID;
${never("certificate_replacement_stays", "UPDATE", "certificate_replacement", "", "a replacement is not edited")}
${never("certificate_replacement_not_deleted", "DELETE", "certificate_replacement", "", "a replacement is not deleted")}

CREATE TABLE attachment (
  id TEXT NOT NULL PRIMARY KEY,
  subject_kind TEXT NOT NULL
    CHECK (subject_kind IN ('certificate', 'stage micrometer', 'microscope', 'objective', 'eyepiece', 'calibration')),
  subject_id TEXT NOT NULL,
  file_name TEXT NOT NULL,
  media_type TEXT NOT NULL CHECK (media_type IN ('image/png', 'image/jpeg', 'application/pdf')),
  bytes INTEGER NOT NULL CHECK (bytes BETWEEN 1 AND 20000000),
  sha256 TEXT NOT NULL ${sha256("sha256")},
  caption TEXT NOT NULL,
  added_at TEXT NOT NULL ${instant("added_at")},
  added_by TEXT NOT NULL REFERENCES person (id),
  withdrawn_at TEXT ${instant("withdrawn_at")},
  withdrawn_by TEXT REFERENCES person (id),
  withdrawn_reason TEXT,
  CHECK ((withdrawn_at IS NULL) = (withdrawn_by IS NULL) AND (withdrawn_at IS NULL) = (withdrawn_reason IS NULL))
) STRICT;
CREATE INDEX attachment_by_subject ON attachment (subject_kind, subject_id);
${never(
  "attachment_stays",
  "UPDATE OF id, subject_kind, subject_id, file_name, media_type, bytes, sha256, caption, added_at, added_by",
  "attachment",
  "",
  "an attachment is not edited: withdraw it",
)}
${never("attachment_not_deleted", "DELETE", "attachment", "", "an attachment is withdrawn, not deleted")}

CREATE TABLE equipment_event (
  id TEXT NOT NULL PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN
    ('serviced', 'knocked', 'reticle removed', 'head changed', 'eyepiece moved', 'new person', 'other')),
  subject_kind TEXT NOT NULL CHECK (subject_kind IN ('microscope', 'objective', 'eyepiece')),
  subject_id TEXT NOT NULL,
  happened_on TEXT NOT NULL ${date("happened_on")},
  words TEXT NOT NULL,
  recorded_at TEXT NOT NULL ${instant("recorded_at")},
  recorded_by TEXT NOT NULL REFERENCES person (id)
) STRICT;
CREATE TABLE equipment_event_train (
  train_id TEXT NOT NULL REFERENCES optical_train (id),
  event_id TEXT NOT NULL REFERENCES equipment_event (id),
  PRIMARY KEY (train_id, event_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX equipment_event_train_by_event ON equipment_event_train (event_id);
${never("equipment_event_stays", "UPDATE", "equipment_event", "", "an event is not edited")}
${never("equipment_event_not_deleted", "DELETE", "equipment_event", "", "an event is not deleted")}
${never("equipment_event_train_stays", "UPDATE", "equipment_event_train", "", "an event is not edited")}
${never("equipment_event_train_not_deleted", "DELETE", "equipment_event_train", "", "an event is not deleted")}
`;

/** What stands beside a calibration; its settings and result stay as they were frozen. */
const calibrations = `
CREATE TABLE calibration_check (
  id TEXT NOT NULL PRIMARY KEY,
  train_id TEXT NOT NULL REFERENCES optical_train (id),
  calibration_id TEXT NOT NULL REFERENCES calibration (id),
  stage_micrometer_id TEXT NOT NULL REFERENCES stage_micrometer (id),
  certificate_id TEXT NOT NULL REFERENCES certificate (id),
  settings_json TEXT NOT NULL ${json("settings_json")},
  temperature_typed TEXT NOT NULL,
  remark TEXT NOT NULL,
  result_json TEXT NOT NULL ${json("result_json")},
  passed INTEGER NOT NULL CHECK (passed IN (0, 1)),
  checked_at TEXT NOT NULL ${instant("checked_at")},
  checked_by TEXT NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX calibration_check_by_train ON calibration_check (train_id, checked_at);
${never("calibration_check_stays", "UPDATE", "calibration_check", "", "a check is not edited")}
${never("calibration_check_not_deleted", "DELETE", "calibration_check", "", "a check is not deleted")}

CREATE TABLE calibration_confirmation (
  calibration_id TEXT NOT NULL PRIMARY KEY REFERENCES calibration (id),
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id),
  words TEXT NOT NULL
) STRICT, WITHOUT ROWID;
${never("calibration_confirmation_stays", "UPDATE", "calibration_confirmation", "", "a confirmation is not edited")}
${never("calibration_confirmation_not_deleted", "DELETE", "calibration_confirmation", "", "a confirmation is not deleted")}
`;

/** Results that were replaced are kept in superseded_measurement; a slice names its range of ids there. */
const reevaluations = `
CREATE TABLE reevaluation (
  id TEXT NOT NULL PRIMARY KEY,
  scope_json TEXT NOT NULL ${json("scope_json")},
  swaps_json TEXT NOT NULL ${json("swaps_json")},
  reason TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('running', 'stopped', 'finished')),
  total INTEGER NOT NULL CHECK (total >= 0),
  done INTEGER NOT NULL CHECK (done >= 0),
  reopened_sheets INTEGER NOT NULL CHECK (reopened_sheets >= 0),
  cursor_json TEXT ${json("cursor_json")},
  started_at TEXT NOT NULL ${instant("started_at")},
  started_by TEXT NOT NULL REFERENCES person (id),
  finished_at TEXT ${instant("finished_at")},
  trouble TEXT
) STRICT;
CREATE UNIQUE INDEX reevaluation_running ON reevaluation (state) WHERE state = 'running';
${never(
  "reevaluation_stays",
  "UPDATE OF id, scope_json, swaps_json, reason, started_at, started_by",
  "reevaluation",
  "",
  "a re-evaluation is not edited",
)}
${never("reevaluation_not_deleted", "DELETE", "reevaluation", "", "a re-evaluation is not deleted")}

CREATE TABLE reevaluation_slice (
  reevaluation_id TEXT NOT NULL REFERENCES reevaluation (id),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 1),
  audit_sequence INTEGER NOT NULL UNIQUE REFERENCES audit_line (sequence),
  first_superseded_id INTEGER NOT NULL UNIQUE REFERENCES superseded_measurement (id),
  last_superseded_id INTEGER NOT NULL REFERENCES superseded_measurement (id),
  from_calibration_id TEXT NOT NULL REFERENCES calibration (id),
  to_calibration_id TEXT NOT NULL REFERENCES calibration (id),
  sha256 TEXT NOT NULL ${sha256("sha256")},
  PRIMARY KEY (reevaluation_id, ordinal),
  CHECK (last_superseded_id >= first_superseded_id)
) STRICT, WITHOUT ROWID;
${never("reevaluation_slice_stays", "UPDATE", "reevaluation_slice", "", "a slice is not edited")}
${never("reevaluation_slice_not_deleted", "DELETE", "reevaluation_slice", "", "a slice is not deleted")}

CREATE TABLE calibration_recalculation (
  calibration_id TEXT NOT NULL PRIMARY KEY REFERENCES calibration (id),
  from_calibration_id TEXT NOT NULL REFERENCES calibration (id),
  certificate_id TEXT NOT NULL REFERENCES certificate (id),
  reevaluation_id TEXT NOT NULL REFERENCES reevaluation (id),
  UNIQUE (from_calibration_id, certificate_id)
) STRICT, WITHOUT ROWID;
${never("calibration_recalculation_stays", "UPDATE", "calibration_recalculation", "", "an origin is not edited")}
${never("calibration_recalculation_not_deleted", "DELETE", "calibration_recalculation", "", "an origin is not deleted")}
`;

/** One closing, review and signature of a sheet stands at a time; those that fell stay to be read. */
const signOffs = `
CREATE TABLE sheet_sign_off (
  id TEXT NOT NULL PRIMARY KEY,
  sheet_id TEXT NOT NULL REFERENCES sheet (id),
  kind TEXT NOT NULL CHECK (kind IN ('closed', 'reviewed', 'signed')),
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id),
  words TEXT NOT NULL,
  data_sha256 TEXT NOT NULL ${sha256("data_sha256")},
  ended_at TEXT ${instant("ended_at")},
  ended_by TEXT REFERENCES person (id),
  end_reason TEXT,
  CHECK ((ended_at IS NULL) = (ended_by IS NULL) AND (ended_at IS NULL) = (end_reason IS NULL))
) STRICT;
CREATE INDEX sheet_sign_off_by_sheet ON sheet_sign_off (sheet_id, at);
CREATE UNIQUE INDEX sheet_sign_off_stands ON sheet_sign_off (sheet_id, kind) WHERE ended_at IS NULL;
${never(
  "sheet_sign_off_stays",
  "UPDATE",
  "sheet_sign_off",
  "WHEN OLD.ended_at IS NOT NULL OR NEW.id <> OLD.id OR NEW.sheet_id <> OLD.sheet_id OR NEW.kind <> OLD.kind " +
    "OR NEW.at <> OLD.at OR NEW.by <> OLD.by OR NEW.words <> OLD.words OR NEW.data_sha256 <> OLD.data_sha256",
  "a signature is not edited",
)}
${never("sheet_sign_off_not_deleted", "DELETE", "sheet_sign_off", "", "a signature is not deleted")}

CREATE TABLE person_pin (
  person_id TEXT NOT NULL PRIMARY KEY REFERENCES person (id),
  scheme TEXT NOT NULL,
  salt TEXT NOT NULL,
  hash TEXT NOT NULL,
  set_at TEXT NOT NULL ${instant("set_at")},
  failures INTEGER NOT NULL CHECK (failures >= 0),
  blocked_until TEXT ${instant("blocked_until")}
) STRICT, WITHOUT ROWID;
`;

export const traceability: Migration = {
  version: 30,
  name: "traceability",
  sql: equipment + calibrations + reevaluations + signOffs,
};
