import { decimal, instant, json, never, typed } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** Rows learn where they lie on the stage, and may be taken off a sheet by an undo without being deleted. */
const rows = `
CREATE TABLE specimen_row_new (
  id TEXT NOT NULL PRIMARY KEY,
  sheet_id TEXT NOT NULL REFERENCES sheet (id),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 1),
  label TEXT NOT NULL,
  label_stem TEXT NOT NULL,
  note TEXT NOT NULL,
  stage_x TEXT,
  stage_y TEXT,
  struck_at TEXT ${instant("struck_at")},
  struck_by TEXT REFERENCES person (id),
  struck_reason TEXT,
  undone_at TEXT ${instant("undone_at")},
  CHECK ((struck_at IS NULL) = (struck_by IS NULL) AND (struck_at IS NULL) = (struck_reason IS NULL)),
  CHECK ((stage_x IS NULL) = (stage_y IS NULL))
) STRICT;
INSERT INTO specimen_row_new (id, sheet_id, ordinal, label, label_stem, note, struck_at, struck_by, struck_reason)
  SELECT id, sheet_id, ordinal, label, rtrim(rtrim(trim(label), '0123456789'), ' #._-'), note, struck_at, struck_by,
    struck_reason FROM specimen_row;
DROP TABLE specimen_row;
ALTER TABLE specimen_row_new RENAME TO specimen_row;
CREATE UNIQUE INDEX specimen_row_on_sheet ON specimen_row (sheet_id, ordinal) WHERE undone_at IS NULL;
${never("specimen_row_not_deleted", "DELETE", "specimen_row", "", "a specimen row is struck, not deleted")}
`;

/** Measurements learn direct readings and repeats; a replaced or withdrawn result is kept beside them. */
const measurements = `
CREATE TABLE measurement_new (
  row_id TEXT NOT NULL REFERENCES specimen_row (id),
  dimension TEXT NOT NULL,
  entry TEXT NOT NULL CHECK (entry IN ('two-edges', 'direct')),
  left_typed TEXT ${typed("left_typed")},
  right_typed TEXT ${typed("right_typed")},
  direct_typed TEXT ${typed("direct_typed")},
  repeats_json TEXT NOT NULL ${json("repeats_json")},
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
  size_bin INTEGER,
  missing TEXT,
  flags_json TEXT NOT NULL ${json("flags_json")},
  entered_at TEXT NOT NULL ${instant("entered_at")},
  entered_by TEXT NOT NULL REFERENCES person (id),
  PRIMARY KEY (row_id, dimension),
  CHECK (left_typed IS NOT NULL OR right_typed IS NOT NULL OR direct_typed IS NOT NULL OR repeats_json <> '[]'),
  CHECK (direct_typed IS NULL OR (entry = 'direct' AND left_typed IS NULL AND right_typed IS NULL)),
  CHECK (entry = 'two-edges' OR (left_typed IS NULL AND right_typed IS NULL)),
  CHECK (divisions_text IS NOT NULL OR
    NOT ((left_typed IS NOT NULL AND right_typed IS NOT NULL) OR direct_typed IS NOT NULL)),
  CHECK (size_um IS NULL OR (calibration_id IS NOT NULL AND divisions_text IS NOT NULL
    AND size_standard_um IS NOT NULL
    AND size_coverage_factor IS NOT NULL AND size_expanded_um IS NOT NULL
    AND size_shown IS NOT NULL AND size_shown_uncertainty IS NOT NULL))
) STRICT, WITHOUT ROWID;
INSERT INTO measurement_new (row_id, dimension, entry, left_typed, right_typed, repeats_json, train_id, calibration_id,
    divisions_text, size_um, size_standard_um, size_degrees_of_freedom, size_coverage_factor, size_expanded_um,
    size_shown, size_shown_uncertainty, size_bin, missing, flags_json, entered_at, entered_by)
  SELECT row_id, dimension, 'two-edges', left_typed, right_typed, '[]', train_id, calibration_id,
    divisions_text, size_um, size_standard_um, size_degrees_of_freedom, size_coverage_factor, size_expanded_um,
    size_shown, size_shown_uncertainty,
    CASE WHEN CAST(size_um AS REAL) > 0 THEN CAST(floor(ln(CAST(size_um AS REAL)) * 50) AS INTEGER) END,
    missing, flags_json, entered_at, entered_by
  FROM measurement;
DROP TABLE measurement;
ALTER TABLE measurement_new RENAME TO measurement;
CREATE INDEX measurement_by_calibration ON measurement (calibration_id);

CREATE TABLE superseded_measurement (
  id INTEGER NOT NULL PRIMARY KEY,
  row_id TEXT NOT NULL REFERENCES specimen_row (id),
  dimension TEXT NOT NULL,
  calibration_id TEXT REFERENCES calibration (id),
  size_um TEXT ${decimal("size_um")},
  measurement_json TEXT NOT NULL ${json("measurement_json")},
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id),
  act TEXT NOT NULL,
  reason TEXT
) STRICT;
CREATE INDEX superseded_by_row ON superseded_measurement (row_id, dimension);
CREATE INDEX superseded_by_calibration ON superseded_measurement (calibration_id);
${never("superseded_stays", "UPDATE", "superseded_measurement", "", "a superseded result stays as it was")}
${never("superseded_not_deleted", "DELETE", "superseded_measurement", "", "a superseded result is not deleted")}
CREATE TRIGGER measurement_not_deleted BEFORE DELETE ON measurement
WHEN NOT EXISTS (SELECT 1 FROM superseded_measurement s WHERE s.row_id = OLD.row_id AND s.dimension = OLD.dimension)
BEGIN SELECT RAISE(ABORT, 'a measurement is struck, not deleted'); END;

CREATE TABLE cell_draft_new (
  sheet_id TEXT NOT NULL REFERENCES sheet (id),
  row_id TEXT NOT NULL,
  dimension TEXT NOT NULL,
  edge TEXT NOT NULL CHECK (edge IN ('left', 'right', 'direct')),
  repeat INTEGER NOT NULL CHECK (repeat BETWEEN 1 AND 10),
  typed TEXT NOT NULL,
  PRIMARY KEY (sheet_id, row_id, dimension, edge, repeat)
) STRICT, WITHOUT ROWID;
INSERT INTO cell_draft_new SELECT sheet_id, row_id, dimension, edge, 1, typed FROM cell_draft;
DROP TABLE cell_draft;
ALTER TABLE cell_draft_new RENAME TO cell_draft;

ALTER TABLE sheet ADD COLUMN confirmed_json TEXT ${json("confirmed_json")};
`;

const COUNTED = "r.struck_at IS NULL AND r.undone_at IS NULL AND r.label_stem <> ''";

/** Adds `by` to the two counts of the size of one changed measurement, when it has one and its row counts. */
function countOfMeasurement(by: 1 | -1, side: "OLD" | "NEW"): string {
  const condition = `r.id = ${side}.row_id AND ${side}.size_bin IS NOT NULL AND ${COUNTED}`;
  return `
  INSERT INTO sheet_size_bin (sheet_id, label_stem, dimension, bin, n)
    SELECT r.sheet_id, r.label_stem, ${side}.dimension, ${side}.size_bin, ${by} FROM specimen_row r WHERE ${condition}
    ON CONFLICT (sheet_id, label_stem, dimension, bin) DO UPDATE SET n = n + excluded.n;
  INSERT INTO family_size_bin (family_id, label_stem, dimension, bin, n)
    SELECT m.family_id, r.label_stem, ${side}.dimension, ${side}.size_bin, ${by}
    FROM specimen_row r CROSS JOIN sheet s ON s.id = r.sheet_id CROSS JOIN method m ON m.id = s.method_id
    WHERE ${condition}
    ON CONFLICT (family_id, label_stem, dimension, bin) DO UPDATE SET n = n + excluded.n;`;
}

/** The counts of all sizes of one changed row. */
function countOfRow(by: 1 | -1, side: "OLD" | "NEW"): string {
  const condition =
    `${side}.struck_at IS NULL AND ${side}.undone_at IS NULL AND ${side}.label_stem <> '' ` +
    `AND d.row_id = ${side}.id AND d.size_bin IS NOT NULL`;
  return `
  INSERT INTO sheet_size_bin (sheet_id, label_stem, dimension, bin, n)
    SELECT ${side}.sheet_id, ${side}.label_stem, d.dimension, d.size_bin, ${by} FROM measurement d WHERE ${condition}
    ON CONFLICT (sheet_id, label_stem, dimension, bin) DO UPDATE SET n = n + excluded.n;
  INSERT INTO family_size_bin (family_id, label_stem, dimension, bin, n)
    SELECT m.family_id, ${side}.label_stem, d.dimension, d.size_bin, ${by}
    FROM measurement d CROSS JOIN sheet s ON s.id = ${side}.sheet_id CROSS JOIN method m ON m.id = s.method_id
    WHERE ${condition}
    ON CONFLICT (family_id, label_stem, dimension, bin) DO UPDATE SET n = n + excluded.n;`;
}

/** How sizes of a label are spread, kept by the database itself so that no writer can forget it. */
const histories = `
CREATE TABLE sheet_size_bin (
  sheet_id TEXT NOT NULL REFERENCES sheet (id),
  label_stem TEXT NOT NULL,
  dimension TEXT NOT NULL,
  bin INTEGER NOT NULL,
  n INTEGER NOT NULL,
  PRIMARY KEY (sheet_id, label_stem, dimension, bin)
) STRICT, WITHOUT ROWID;
CREATE TABLE family_size_bin (
  family_id TEXT NOT NULL,
  label_stem TEXT NOT NULL,
  dimension TEXT NOT NULL,
  bin INTEGER NOT NULL,
  n INTEGER NOT NULL,
  PRIMARY KEY (family_id, label_stem, dimension, bin)
) STRICT, WITHOUT ROWID;
INSERT INTO sheet_size_bin
  SELECT r.sheet_id, r.label_stem, d.dimension, d.size_bin, count(*)
  FROM specimen_row r JOIN measurement d ON d.row_id = r.id
  WHERE ${COUNTED} AND d.size_bin IS NOT NULL GROUP BY 1, 2, 3, 4;
INSERT INTO family_size_bin
  SELECT m.family_id, b.label_stem, b.dimension, b.bin, sum(b.n)
  FROM sheet_size_bin b JOIN sheet s ON s.id = b.sheet_id JOIN method m ON m.id = s.method_id GROUP BY 1, 2, 3, 4;
CREATE TRIGGER size_counted AFTER INSERT ON measurement WHEN NEW.size_bin IS NOT NULL BEGIN ${countOfMeasurement(1, "NEW")}
END;
CREATE TRIGGER size_recounted AFTER UPDATE OF size_bin ON measurement WHEN OLD.size_bin IS NOT NEW.size_bin BEGIN
${countOfMeasurement(-1, "OLD")}
${countOfMeasurement(1, "NEW")}
END;
CREATE TRIGGER size_discounted AFTER DELETE ON measurement WHEN OLD.size_bin IS NOT NULL BEGIN ${countOfMeasurement(-1, "OLD")}
END;
CREATE TRIGGER row_recounted AFTER UPDATE OF label_stem, struck_at, undone_at ON specimen_row
WHEN OLD.label_stem IS NOT NEW.label_stem OR (OLD.struck_at IS NULL) <> (NEW.struck_at IS NULL)
  OR (OLD.undone_at IS NULL) <> (NEW.undone_at IS NULL) BEGIN
${countOfRow(-1, "OLD")}
${countOfRow(1, "NEW")}
END;
`;

/** Acts on a sheet in order, each with what it replaced, so that it can be taken back; undoing adds to the trail. */
const journal = `
CREATE TABLE sheet_act (
  id INTEGER NOT NULL PRIMARY KEY,
  sheet_id TEXT NOT NULL REFERENCES sheet (id),
  words TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('done', 'undone', 'cleared')),
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX sheet_act_by_state ON sheet_act (sheet_id, state, id);
${never("sheet_act_not_deleted", "DELETE", "sheet_act", "", "an act is taken back, not deleted")}
CREATE TABLE sheet_act_change (
  act_id INTEGER NOT NULL REFERENCES sheet_act (id),
  row_id TEXT NOT NULL REFERENCES specimen_row (id),
  dimension TEXT NOT NULL,
  before_json TEXT ${json("before_json")},
  after_json TEXT ${json("after_json")},
  after_digest TEXT NOT NULL,
  PRIMARY KEY (act_id, row_id, dimension)
) STRICT, WITHOUT ROWID;

CREATE TABLE staged_block (
  block_id TEXT NOT NULL,
  part INTEGER NOT NULL CHECK (part >= 1),
  sheet_id TEXT NOT NULL REFERENCES sheet (id),
  text TEXT NOT NULL,
  at TEXT NOT NULL ${instant("at")},
  PRIMARY KEY (block_id, part)
) STRICT, WITHOUT ROWID;
`;

const secondReadings = `
CREATE TABLE second_reading (
  id TEXT NOT NULL PRIMARY KEY,
  sheet_id TEXT NOT NULL REFERENCES sheet (id),
  number INTEGER NOT NULL CHECK (number >= 1),
  choice_json TEXT NOT NULL ${json("choice_json")},
  started_at TEXT NOT NULL ${instant("started_at")},
  reader TEXT NOT NULL REFERENCES person (id),
  same_reader INTEGER NOT NULL CHECK (same_reader IN (0, 1)),
  note TEXT NOT NULL,
  closed_at TEXT ${instant("closed_at")},
  closed_by TEXT REFERENCES person (id),
  report_json TEXT ${json("report_json")},
  UNIQUE (sheet_id, number),
  CHECK ((closed_at IS NULL) = (closed_by IS NULL) AND (closed_at IS NULL) = (report_json IS NULL))
) STRICT;
${never("second_reading_not_deleted", "DELETE", "second_reading", "", "a second reading is not deleted")}
${never("second_reading_stays", "UPDATE", "second_reading", "WHEN OLD.closed_at IS NOT NULL", "a closed second reading stays as it is")}
CREATE TABLE second_reading_row (
  second_reading_id TEXT NOT NULL REFERENCES second_reading (id),
  place INTEGER NOT NULL CHECK (place >= 1),
  row_id TEXT NOT NULL REFERENCES specimen_row (id),
  PRIMARY KEY (second_reading_id, place),
  UNIQUE (second_reading_id, row_id)
) STRICT, WITHOUT ROWID;
CREATE TABLE second_reading_measurement (
  second_reading_id TEXT NOT NULL REFERENCES second_reading (id),
  row_id TEXT NOT NULL REFERENCES specimen_row (id),
  dimension TEXT NOT NULL,
  measurement_json TEXT NOT NULL ${json("measurement_json")},
  PRIMARY KEY (second_reading_id, row_id, dimension)
) STRICT, WITHOUT ROWID;
${never("second_measurement_not_deleted", "DELETE", "second_reading_measurement", "", "a second reading is not deleted")}
`;

const trail = `
DROP INDEX audit_line_amendment;
CREATE INDEX audit_line_amendment ON audit_line (subject_id, sequence)
  WHERE act IN ('rows.amend', 'rows.describe', 'rows.strike', 'rows.changeObjective', 'rows.undo', 'rows.redo');
`;

export const measuring: Migration = {
  version: 20,
  name: "measuring",
  sql: rows + measurements + histories + journal + secondReadings + trail,
  rebuildsTables: true,
};
