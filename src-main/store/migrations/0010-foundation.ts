import type { Migration } from "./migration.ts";

/** Second nets below the record schemas: canonical decimals, instants, dates, whole JSON. */
export const decimal = (column: string): string =>
  `CHECK ((${column} GLOB '[0-9]*' OR ${column} GLOB '-[0-9]*') AND substr(${column}, 2) NOT GLOB '*[^0-9.]*' ` +
  `AND ${column} NOT GLOB '*.*.*' AND ${column} NOT GLOB '*.')`;
export const instant = (column: string): string =>
  `CHECK (${column} GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T[0-2][0-9]:[0-5][0-9]:[0-6][0-9].[0-9][0-9][0-9]Z')`;
export const date = (column: string): string =>
  `CHECK (${column} GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]')`;
export const json = (column: string): string => `CHECK (json_valid(${column}))`;
export const typed = (column: string): string =>
  `CHECK (length(${column}) BETWEEN 1 AND 40 AND ${column} NOT GLOB '*[^0-9.,−-]*' AND ${column} GLOB '*[0-9]*')`;
export const never = (name: string, event: string, table: string, condition: string, words: string): string =>
  `CREATE TRIGGER ${name} BEFORE ${event} ON ${table} ${condition} BEGIN SELECT RAISE(ABORT, '${words}'); END;`;

const bench = `
CREATE TABLE bench_setting (
  key TEXT NOT NULL PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE person (
  id TEXT NOT NULL PRIMARY KEY,
  name TEXT NOT NULL,
  name_key TEXT NOT NULL UNIQUE,
  initials TEXT NOT NULL,
  interpupillary_mm TEXT ${decimal("interpupillary_mm")},
  registered_at TEXT NOT NULL ${instant("registered_at")}
) STRICT;

CREATE TABLE request (
  request_id TEXT NOT NULL PRIMARY KEY,
  act TEXT NOT NULL,
  digest TEXT NOT NULL,
  subject_id TEXT NOT NULL,
  at TEXT NOT NULL ${instant("at")}
) STRICT, WITHOUT ROWID;
CREATE INDEX request_by_age ON request (at);

CREATE TABLE audit_line (
  sequence INTEGER NOT NULL PRIMARY KEY CHECK (sequence >= 1),
  at TEXT NOT NULL ${instant("at")},
  person_id TEXT REFERENCES person (id),
  act TEXT NOT NULL,
  subject TEXT NOT NULL,
  subject_id TEXT NOT NULL,
  reason TEXT,
  detail TEXT NOT NULL ${json("detail")},
  hash TEXT NOT NULL CHECK (length(hash) = 64 AND hash NOT GLOB '*[^0-9a-f]*')
) STRICT;
CREATE INDEX audit_line_by_subject ON audit_line (subject_id, sequence);
CREATE INDEX audit_line_amendment ON audit_line (subject_id, sequence)
  WHERE act IN ('rows.amend', 'rows.describe', 'rows.strike');
${never("audit_line_stays", "UPDATE", "audit_line", "", "the audit trail is append-only")}
${never("audit_line_not_deleted", "DELETE", "audit_line", "", "the audit trail is append-only")}
`;

const microscopes = `
CREATE TABLE microscope (
  id TEXT NOT NULL PRIMARY KEY,
  name TEXT NOT NULL,
  name_key TEXT NOT NULL UNIQUE,
  maker TEXT NOT NULL,
  model TEXT NOT NULL,
  serial TEXT NOT NULL,
  head_compensated INTEGER NOT NULL CHECK (head_compensated IN (0, 1)),
  registered_at TEXT NOT NULL ${instant("registered_at")}
) STRICT;

CREATE TABLE intermediate_magnification (
  microscope_id TEXT NOT NULL REFERENCES microscope (id),
  ordinal INTEGER NOT NULL,
  magnification TEXT NOT NULL ${decimal("magnification")},
  PRIMARY KEY (microscope_id, ordinal),
  UNIQUE (microscope_id, magnification)
) STRICT, WITHOUT ROWID;

CREATE TABLE objective (
  id TEXT NOT NULL PRIMARY KEY,
  microscope_id TEXT NOT NULL REFERENCES microscope (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 12),
  magnification TEXT NOT NULL ${decimal("magnification")},
  numerical_aperture TEXT ${decimal("numerical_aperture")},
  immersion TEXT NOT NULL CHECK (immersion IN ('dry', 'water', 'glycerol', 'oil')),
  serial TEXT NOT NULL,
  UNIQUE (microscope_id, position)
) STRICT;

CREATE TABLE reticle (
  id TEXT NOT NULL PRIMARY KEY,
  engraving TEXT NOT NULL,
  scale_length_mm TEXT NOT NULL ${decimal("scale_length_mm")},
  divisions INTEGER NOT NULL CHECK (divisions BETWEEN 1 AND 10000)
) STRICT;

CREATE TABLE eyepiece (
  id TEXT NOT NULL PRIMARY KEY,
  microscope_id TEXT NOT NULL REFERENCES microscope (id),
  ordinal INTEGER NOT NULL,
  name TEXT NOT NULL,
  magnification TEXT ${decimal("magnification")},
  field_number TEXT ${decimal("field_number")},
  serial TEXT NOT NULL,
  reticle_id TEXT NOT NULL UNIQUE REFERENCES reticle (id),
  UNIQUE (microscope_id, ordinal)
) STRICT;

CREATE TABLE optical_train (
  id TEXT NOT NULL PRIMARY KEY,
  microscope_id TEXT NOT NULL REFERENCES microscope (id),
  eyepiece_id TEXT NOT NULL REFERENCES eyepiece (id),
  reticle_id TEXT NOT NULL REFERENCES reticle (id),
  objective_id TEXT NOT NULL REFERENCES objective (id),
  intermediate_magnification TEXT NOT NULL ${decimal("intermediate_magnification")},
  nominal_factor TEXT NOT NULL ${decimal("nominal_factor")},
  UNIQUE (eyepiece_id, objective_id, intermediate_magnification)
) STRICT;
CREATE INDEX optical_train_by_microscope ON optical_train (microscope_id);
CREATE INDEX optical_train_by_objective ON optical_train (objective_id);
CREATE INDEX optical_train_by_reticle ON optical_train (reticle_id);
`;

const micrometers = `
CREATE TABLE stage_micrometer (
  id TEXT NOT NULL PRIMARY KEY,
  name TEXT NOT NULL,
  serial TEXT NOT NULL,
  identity_key TEXT NOT NULL UNIQUE,
  maker TEXT NOT NULL,
  scale_length_um TEXT NOT NULL ${decimal("scale_length_um")},
  divisions INTEGER NOT NULL CHECK (divisions BETWEEN 1 AND 100000),
  substrate TEXT NOT NULL
    CHECK (substrate IN ('soda-lime glass', 'borosilicate glass', 'fused silica', 'other')),
  expansion TEXT NOT NULL ${decimal("expansion")},
  expansion_half_width TEXT NOT NULL ${decimal("expansion_half_width")},
  registered_at TEXT NOT NULL ${instant("registered_at")}
) STRICT;

CREATE TABLE certificate (
  id TEXT NOT NULL PRIMARY KEY,
  stage_micrometer_id TEXT NOT NULL REFERENCES stage_micrometer (id),
  number TEXT NOT NULL,
  identity_key TEXT NOT NULL,
  laboratory TEXT NOT NULL,
  accreditation TEXT NOT NULL,
  calibrated_on TEXT NOT NULL ${date("calibrated_on")},
  due_on TEXT NOT NULL ${date("due_on")},
  due_reason TEXT NOT NULL,
  temperature TEXT NOT NULL ${decimal("temperature")},
  sign TEXT NOT NULL CHECK (sign IN ('position', 'error', 'correction', 'indication-error')),
  expanded_uncertainty TEXT NOT NULL ${decimal("expanded_uncertainty")},
  coverage_factor TEXT NOT NULL ${decimal("coverage_factor")},
  registered_at TEXT NOT NULL ${instant("registered_at")},
  UNIQUE (stage_micrometer_id, identity_key)
) STRICT;

CREATE TABLE certificate_line (
  certificate_id TEXT NOT NULL REFERENCES certificate (id),
  ordinal INTEGER NOT NULL,
  nominal TEXT NOT NULL ${decimal("nominal")},
  error TEXT NOT NULL ${decimal("error")},
  typed_nominal TEXT NOT NULL,
  typed_value TEXT NOT NULL,
  PRIMARY KEY (certificate_id, ordinal)
) STRICT, WITHOUT ROWID;
${never("certificate_stays", "UPDATE", "certificate", "", "a certificate is not changed: register the corrected one")}
${never("certificate_not_deleted", "DELETE", "certificate", "", "a certificate is not deleted")}
${never("certificate_line_stays", "UPDATE", "certificate_line", "", "a certificate is not changed")}
${never("certificate_line_not_deleted", "DELETE", "certificate_line", "", "a certificate is not deleted")}
`;

const calibrations = `
CREATE TABLE calibration (
  id TEXT NOT NULL PRIMARY KEY,
  train_id TEXT NOT NULL REFERENCES optical_train (id),
  stage_micrometer_id TEXT NOT NULL REFERENCES stage_micrometer (id),
  certificate_id TEXT NOT NULL REFERENCES certificate (id),
  person_id TEXT NOT NULL REFERENCES person (id),
  state TEXT NOT NULL CHECK (state IN ('draft', 'in force', 'superseded', 'withdrawn')),
  started_at TEXT NOT NULL ${instant("started_at")},
  settings_json TEXT NOT NULL ${json("settings_json")},
  conditions_json TEXT NOT NULL ${json("conditions_json")},
  estimator TEXT NOT NULL,
  coverage TEXT NOT NULL,
  remark TEXT NOT NULL,
  result_json TEXT ${json("result_json")},
  due_on TEXT ${date("due_on")},
  in_force_at TEXT ${instant("in_force_at")},
  in_force_by TEXT REFERENCES person (id),
  ended_at TEXT ${instant("ended_at")},
  ended_by TEXT REFERENCES person (id),
  end_reason TEXT,
  CHECK (state NOT IN ('in force', 'superseded') OR
    (result_json IS NOT NULL AND due_on IS NOT NULL AND in_force_at IS NOT NULL AND in_force_by IS NOT NULL)),
  CHECK (state NOT IN ('superseded', 'withdrawn') OR
    (ended_at IS NOT NULL AND ended_by IS NOT NULL AND end_reason IS NOT NULL))
) STRICT;
CREATE UNIQUE INDEX calibration_in_force ON calibration (train_id) WHERE state = 'in force';
CREATE INDEX calibration_by_train ON calibration (train_id, started_at);
CREATE INDEX calibration_by_age ON calibration (started_at);
CREATE INDEX calibration_by_certificate ON calibration (certificate_id);
${never(
  "calibration_result_stays",
  "UPDATE OF train_id, stage_micrometer_id, certificate_id, person_id, started_at, settings_json, conditions_json, estimator, coverage, result_json, due_on, in_force_at, in_force_by",
  "calibration",
  "WHEN OLD.state <> 'draft'",
  "a calibration that was put in force keeps its settings and its result",
)}
${never("calibration_not_deleted", "DELETE", "calibration", "", "a calibration is not deleted: withdraw it")}

CREATE TABLE method (
  id TEXT NOT NULL PRIMARY KEY,
  family_id TEXT NOT NULL,
  version INTEGER NOT NULL CHECK (version >= 1),
  name_key TEXT NOT NULL,
  definition_json TEXT NOT NULL ${json("definition_json")},
  defined_at TEXT NOT NULL ${instant("defined_at")},
  defined_by TEXT NOT NULL REFERENCES person (id),
  UNIQUE (family_id, version)
) STRICT;
CREATE INDEX method_by_name ON method (name_key);
${never("method_stays", "UPDATE", "method", "", "a method is not changed: define its next version")}
${never("method_not_deleted", "DELETE", "method", "", "a method is not deleted")}
`;

const sheets = `
CREATE TABLE sheet (
  id TEXT NOT NULL PRIMARY KEY,
  ordinal INTEGER NOT NULL UNIQUE CHECK (ordinal >= 1),
  sample TEXT NOT NULL,
  note TEXT NOT NULL,
  method_id TEXT NOT NULL REFERENCES method (id),
  microscope_id TEXT NOT NULL REFERENCES microscope (id),
  eyepiece_id TEXT NOT NULL REFERENCES eyepiece (id),
  intermediate_magnification TEXT NOT NULL ${decimal("intermediate_magnification")},
  objective_id TEXT NOT NULL REFERENCES objective (id),
  opened_at TEXT NOT NULL ${instant("opened_at")},
  opened_by TEXT NOT NULL REFERENCES person (id),
  row_count INTEGER NOT NULL CHECK (row_count >= 0),
  struck_count INTEGER NOT NULL CHECK (struck_count BETWEEN 0 AND row_count)
) STRICT;
${never("sheet_not_deleted", "DELETE", "sheet", "", "a sheet is not deleted")}

CREATE TABLE specimen_row (
  id TEXT NOT NULL PRIMARY KEY,
  sheet_id TEXT NOT NULL REFERENCES sheet (id),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 1),
  label TEXT NOT NULL,
  note TEXT NOT NULL,
  struck_at TEXT ${instant("struck_at")},
  struck_by TEXT REFERENCES person (id),
  struck_reason TEXT,
  UNIQUE (sheet_id, ordinal),
  CHECK ((struck_at IS NULL) = (struck_by IS NULL) AND (struck_at IS NULL) = (struck_reason IS NULL))
) STRICT;
${never("specimen_row_not_deleted", "DELETE", "specimen_row", "", "a specimen row is struck, not deleted")}

CREATE TABLE measurement (
  row_id TEXT NOT NULL REFERENCES specimen_row (id),
  dimension TEXT NOT NULL,
  left_typed TEXT ${typed("left_typed")},
  right_typed TEXT ${typed("right_typed")},
  train_id TEXT NOT NULL REFERENCES optical_train (id),
  calibration_id TEXT REFERENCES calibration (id),
  divisions_text TEXT ${decimal("divisions_text")},
  size_um TEXT ${decimal("size_um")},
  size_standard_um TEXT ${decimal("size_standard_um")},
  size_degrees_of_freedom TEXT ${decimal("size_degrees_of_freedom")},
  size_coverage_factor TEXT ${decimal("size_coverage_factor")},
  size_expanded_um TEXT ${decimal("size_expanded_um")},
  size_shown TEXT,
  size_shown_uncertainty TEXT,
  missing TEXT,
  flags_json TEXT NOT NULL ${json("flags_json")},
  entered_at TEXT NOT NULL ${instant("entered_at")},
  entered_by TEXT NOT NULL REFERENCES person (id),
  PRIMARY KEY (row_id, dimension),
  CHECK (left_typed IS NOT NULL OR right_typed IS NOT NULL),
  CHECK ((divisions_text IS NOT NULL) = (left_typed IS NOT NULL AND right_typed IS NOT NULL)),
  CHECK (size_um IS NULL OR (calibration_id IS NOT NULL AND size_standard_um IS NOT NULL
    AND size_coverage_factor IS NOT NULL AND size_expanded_um IS NOT NULL
    AND size_shown IS NOT NULL AND size_shown_uncertainty IS NOT NULL))
) STRICT, WITHOUT ROWID;
CREATE INDEX measurement_by_calibration ON measurement (calibration_id);
${never("measurement_not_deleted", "DELETE", "measurement", "", "a measurement is struck, not deleted")}

CREATE TABLE cell_draft (
  sheet_id TEXT NOT NULL REFERENCES sheet (id),
  row_id TEXT NOT NULL,
  dimension TEXT NOT NULL,
  edge TEXT NOT NULL CHECK (edge IN ('left', 'right')),
  typed TEXT NOT NULL,
  PRIMARY KEY (sheet_id, row_id, dimension, edge)
) STRICT, WITHOUT ROWID;
`;

export const foundation: Migration = {
  version: 10,
  name: "foundation",
  sql: bench + microscopes + micrometers + calibrations + sheets,
};
