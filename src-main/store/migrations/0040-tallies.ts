import type { Migration } from "./migration.ts";

const decimal = (column: string): string =>
  `CHECK ((${column} GLOB '[0-9]*' OR ${column} GLOB '-[0-9]*') AND substr(${column}, 2) NOT GLOB '*[^0-9.]*' ` +
  `AND ${column} NOT GLOB '*.*.*' AND ${column} NOT GLOB '*.')`;
const instant = (column: string): string =>
  `CHECK (${column} GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T[0-2][0-9]:[0-5][0-9]:[0-6][0-9].[0-9][0-9][0-9]Z')`;
const json = (column: string): string => `CHECK (json_valid(${column}))`;
const never = (name: string, event: string, table: string, condition: string, words: string): string =>
  `CREATE TRIGGER ${name} BEFORE ${event} ON ${table} ${condition} BEGIN SELECT RAISE(ABORT, '${words}'); END;`;

const methods = `
CREATE TABLE count_method (
  id TEXT NOT NULL PRIMARY KEY,
  family_id TEXT NOT NULL,
  version INTEGER NOT NULL CHECK (version >= 1),
  definition_json TEXT NOT NULL ${json("definition_json")},
  defined_at TEXT NOT NULL ${instant("defined_at")},
  defined_by TEXT NOT NULL REFERENCES person (id),
  UNIQUE (family_id, version)
) STRICT;
${never("count_method_stays", "UPDATE", "count_method", "", "a count method is not changed: define its next version")}
${never("count_method_not_deleted", "DELETE", "count_method", "", "a count method is not deleted")}
`;

/** Objects are kept as half units, so that halves and colonies add up exactly in whole numbers. */
const tallies = `
CREATE TABLE tally (
  id TEXT NOT NULL PRIMARY KEY,
  ordinal INTEGER NOT NULL UNIQUE CHECK (ordinal >= 1),
  sample TEXT NOT NULL,
  note TEXT NOT NULL,
  count_method_id TEXT NOT NULL REFERENCES count_method (id),
  microscope_id TEXT REFERENCES microscope (id),
  eyepiece_id TEXT REFERENCES eyepiece (id),
  intermediate_magnification TEXT ${decimal("intermediate_magnification")},
  objective_id TEXT REFERENCES objective (id),
  train_id TEXT REFERENCES optical_train (id),
  calibration_id TEXT REFERENCES calibration (id),
  categories_json TEXT NOT NULL ${json("categories_json")},
  inputs_json TEXT NOT NULL ${json("inputs_json")},
  batch TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('counting', 'paused', 'closed')),
  current_field INTEGER NOT NULL CHECK (current_field >= 1),
  last_sequence INTEGER NOT NULL CHECK (last_sequence >= 0),
  last_hash TEXT NOT NULL CHECK (length(last_hash) = 64),
  seconds_before INTEGER NOT NULL CHECK (seconds_before >= 0),
  running_since TEXT ${instant("running_since")},
  opened_at TEXT NOT NULL ${instant("opened_at")},
  opened_by TEXT NOT NULL REFERENCES person (id),
  closed_at TEXT ${instant("closed_at")},
  closed_by TEXT REFERENCES person (id),
  last_field_counted INTEGER NOT NULL CHECK (last_field_counted IN (0, 1)),
  linked_sheet_id TEXT REFERENCES sheet (id),
  results_json TEXT ${json("results_json")},
  CHECK ((state = 'counting') = (running_since IS NOT NULL)),
  CHECK ((state = 'closed') = (closed_at IS NOT NULL AND closed_by IS NOT NULL AND results_json IS NOT NULL)),
  CHECK ((train_id IS NULL) = (microscope_id IS NULL) AND (train_id IS NULL) = (eyepiece_id IS NULL)
    AND (train_id IS NULL) = (objective_id IS NULL) AND (train_id IS NULL) = (intermediate_magnification IS NULL)),
  CHECK (calibration_id IS NULL OR train_id IS NOT NULL)
) STRICT;
CREATE INDEX tally_by_calibration ON tally (calibration_id);
${never("tally_not_deleted", "DELETE", "tally", "", "a count is not deleted")}

CREATE TABLE tally_event (
  tally_id TEXT NOT NULL REFERENCES tally (id),
  sequence INTEGER NOT NULL CHECK (sequence >= 1),
  kind TEXT NOT NULL CHECK (kind IN ('press', 'field', 'undo')),
  field INTEGER NOT NULL CHECK (field >= 1),
  category TEXT,
  half_units INTEGER CHECK (half_units > 0),
  row_id TEXT REFERENCES specimen_row (id),
  strikes INTEGER,
  struck_by INTEGER,
  at TEXT NOT NULL ${instant("at")},
  by_person TEXT NOT NULL REFERENCES person (id),
  request_id TEXT NOT NULL,
  hash TEXT NOT NULL CHECK (length(hash) = 64 AND hash NOT GLOB '*[^0-9a-f]*'),
  PRIMARY KEY (tally_id, sequence),
  CHECK ((kind = 'press') = (category IS NOT NULL AND half_units IS NOT NULL)),
  CHECK ((kind = 'undo') = (strikes IS NOT NULL)),
  CHECK (strikes < sequence),
  CHECK (struck_by IS NULL OR (struck_by > sequence AND kind <> 'undo'))
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX tally_event_request ON tally_event (request_id);
CREATE INDEX tally_event_standing ON tally_event (tally_id, sequence)
  WHERE kind <> 'undo' AND struck_by IS NULL;
${never(
  "tally_event_stays",
  "UPDATE OF tally_id, sequence, kind, field, category, half_units, row_id, strikes, at, by_person, request_id, hash",
  "tally_event",
  "",
  "a press is struck, not changed",
)}
${never("tally_event_struck_once", "UPDATE OF struck_by", "tally_event", "WHEN OLD.struck_by IS NOT NULL", "a press is struck once")}
${never("tally_event_not_deleted", "DELETE", "tally_event", "", "a press is struck, not deleted")}

CREATE TABLE tally_field (
  tally_id TEXT NOT NULL REFERENCES tally (id),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 1),
  x_typed TEXT,
  y_typed TEXT,
  begun_at TEXT NOT NULL ${instant("begun_at")},
  PRIMARY KEY (tally_id, ordinal),
  CHECK ((x_typed IS NULL) = (y_typed IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE tally_field_count (
  tally_id TEXT NOT NULL REFERENCES tally (id),
  field INTEGER NOT NULL CHECK (field >= 1),
  category TEXT NOT NULL,
  half_units INTEGER NOT NULL CHECK (half_units >= 0),
  presses INTEGER NOT NULL CHECK (presses >= 0),
  PRIMARY KEY (tally_id, field, category)
) STRICT, WITHOUT ROWID;

CREATE TABLE tally_category_count (
  tally_id TEXT NOT NULL REFERENCES tally (id),
  category TEXT NOT NULL,
  half_units INTEGER NOT NULL CHECK (half_units >= 0),
  presses INTEGER NOT NULL CHECK (presses >= 0),
  PRIMARY KEY (tally_id, category)
) STRICT, WITHOUT ROWID;
`;

const recounts = `
CREATE TABLE recount (
  id TEXT NOT NULL PRIMARY KEY,
  plan_id TEXT NOT NULL,
  tally_id TEXT NOT NULL REFERENCES tally (id),
  kind TEXT NOT NULL CHECK (kind IN ('fields', 'slide')),
  share TEXT NOT NULL ${decimal("share")},
  fields_json TEXT NOT NULL ${json("fields_json")},
  planned_at TEXT NOT NULL ${instant("planned_at")},
  planned_by TEXT NOT NULL REFERENCES person (id),
  finished_at TEXT ${instant("finished_at")},
  finished_by TEXT REFERENCES person (id),
  report_json TEXT ${json("report_json")},
  CHECK ((finished_at IS NULL) = (finished_by IS NULL) AND (finished_at IS NULL) = (report_json IS NULL))
) STRICT;
CREATE INDEX recount_by_plan ON recount (plan_id);
CREATE INDEX recount_by_tally ON recount (tally_id, planned_at);
${never("recount_not_deleted", "DELETE", "recount", "", "a recount is not deleted")}

CREATE TABLE recount_entry (
  recount_id TEXT NOT NULL REFERENCES recount (id),
  field INTEGER NOT NULL CHECK (field >= 1),
  counts_json TEXT NOT NULL ${json("counts_json")},
  at TEXT NOT NULL ${instant("at")},
  by_person TEXT NOT NULL REFERENCES person (id),
  PRIMARY KEY (recount_id, field)
) STRICT, WITHOUT ROWID;
`;

export const tallying: Migration = { version: 40, name: "tallies", sql: methods + tallies + recounts };
