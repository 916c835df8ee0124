import { decimal, instant, json, never, typed } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** Fails where something would be left behind: a reading whose row somebody took out is not lost unnoticed. */
const sameCount = (table: string): string => `
CREATE TEMP TABLE left_behind (n INTEGER CHECK (n = 0));
INSERT INTO left_behind SELECT (SELECT count(*) FROM ${table}) - (SELECT count(*) FROM ${table}_new);
DROP TABLE left_behind;`;

/** Rows get a number under which their measurements and journal are kept: an identifier is twelve times as long. */
const rows = `
DROP TRIGGER size_counted;
DROP TRIGGER size_recounted;
DROP TRIGGER size_discounted;
DROP TRIGGER row_recounted;
DROP TRIGGER measurement_not_deleted;
CREATE TABLE specimen_row_new (
  key INTEGER NOT NULL PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
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
INSERT INTO specimen_row_new SELECT rowid, id, sheet_id, ordinal, label, label_stem, note, stage_x, stage_y, struck_at,
  struck_by, struck_reason, undone_at FROM specimen_row ORDER BY rowid;
DROP TABLE specimen_row;
ALTER TABLE specimen_row_new RENAME TO specimen_row;
CREATE UNIQUE INDEX specimen_row_on_sheet ON specimen_row (sheet_id, ordinal) WHERE undone_at IS NULL;
${never("specimen_row_not_deleted", "DELETE", "specimen_row", "", "a specimen row is struck, not deleted")}
`;

/** Train, reader and calibration, the same for thousands of readings, are kept once and named by a number. */
const measurements = `
CREATE TABLE measurement_source (
  id INTEGER NOT NULL PRIMARY KEY,
  train_id TEXT NOT NULL REFERENCES optical_train (id),
  entered_by TEXT NOT NULL REFERENCES person (id),
  UNIQUE (train_id, entered_by)
) STRICT;
INSERT INTO measurement_source (train_id, entered_by)
  SELECT DISTINCT train_id, entered_by FROM measurement ORDER BY 1, 2;
CREATE TABLE measurement_calibration (
  id INTEGER NOT NULL PRIMARY KEY,
  calibration_id TEXT NOT NULL UNIQUE REFERENCES calibration (id)
) STRICT;
INSERT INTO measurement_calibration (calibration_id)
  SELECT DISTINCT calibration_id FROM measurement WHERE calibration_id IS NOT NULL ORDER BY 1;
CREATE TABLE measurement_new (
  row_key INTEGER NOT NULL REFERENCES specimen_row (key),
  dimension TEXT NOT NULL,
  is_direct INTEGER NOT NULL CHECK (is_direct IN (0, 1)),
  left_typed TEXT ${typed("left_typed")},
  right_typed TEXT ${typed("right_typed")},
  direct_typed TEXT ${typed("direct_typed")},
  repeats_json TEXT NOT NULL ${json("repeats_json")},
  source INTEGER NOT NULL REFERENCES measurement_source (id),
  calibration INTEGER REFERENCES measurement_calibration (id),
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
  PRIMARY KEY (row_key, dimension),
  CHECK (left_typed IS NOT NULL OR right_typed IS NOT NULL OR direct_typed IS NOT NULL OR repeats_json <> '[]'),
  CHECK (direct_typed IS NULL OR (is_direct = 1 AND left_typed IS NULL AND right_typed IS NULL)),
  CHECK (is_direct = 0 OR (left_typed IS NULL AND right_typed IS NULL)),
  CHECK (divisions_text IS NOT NULL OR
    NOT ((left_typed IS NOT NULL AND right_typed IS NOT NULL) OR direct_typed IS NOT NULL)),
  CHECK (size_um IS NULL OR (calibration IS NOT NULL AND divisions_text IS NOT NULL
    AND size_standard_um IS NOT NULL
    AND size_coverage_factor IS NOT NULL AND size_expanded_um IS NOT NULL
    AND size_shown IS NOT NULL AND size_shown_uncertainty IS NOT NULL))
) STRICT, WITHOUT ROWID;
INSERT INTO measurement_new
  SELECT r.key, m.dimension, m.entry = 'direct', m.left_typed, m.right_typed, m.direct_typed, m.repeats_json, s.id, c.id,
    m.divisions_text, m.size_um, m.size_standard_um, m.size_degrees_of_freedom, m.size_coverage_factor,
    m.size_expanded_um, m.size_shown, m.size_shown_uncertainty, m.size_bin, m.missing, m.flags_json, m.entered_at
  FROM specimen_row r CROSS JOIN measurement m ON m.row_id = r.id
    CROSS JOIN measurement_source s ON s.train_id = m.train_id AND s.entered_by = m.entered_by
    LEFT JOIN measurement_calibration c ON c.calibration_id = m.calibration_id
  ORDER BY r.key, m.dimension;
${sameCount("measurement")}
DROP TABLE measurement;
ALTER TABLE measurement_new RENAME TO measurement;
CREATE INDEX measurement_by_calibration ON measurement (calibration);
CREATE INDEX measurement_repeated ON measurement (source, entered_at) WHERE repeats_json <> '[]';
CREATE TRIGGER measurement_not_deleted BEFORE DELETE ON measurement
WHEN NOT EXISTS (SELECT 1 FROM specimen_row r CROSS JOIN superseded_measurement s ON s.row_id = r.id
  WHERE r.key = OLD.row_key AND s.dimension = OLD.dimension)
BEGIN SELECT RAISE(ABORT, 'a measurement is struck, not deleted'); END;
UPDATE reevaluation SET cursor_json = json_set(cursor_json, '$.rowId', '', '$.dimension', '')
  WHERE cursor_json IS NOT NULL AND finished_at IS NULL;
`;

const COUNTED = "r.struck_at IS NULL AND r.undone_at IS NULL AND r.label_stem <> ''";

function countOfMeasurement(by: 1 | -1, side: "OLD" | "NEW"): string {
  const condition = `r.key = ${side}.row_key AND ${side}.size_bin IS NOT NULL AND ${COUNTED}`;
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

function countOfRow(by: 1 | -1, side: "OLD" | "NEW"): string {
  const condition =
    `${side}.struck_at IS NULL AND ${side}.undone_at IS NULL AND ${side}.label_stem <> '' ` +
    `AND d.row_key = ${side}.key AND d.size_bin IS NOT NULL`;
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

/** As before, by the number of the row. */
const histories = `
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

const journal = `
CREATE TABLE sheet_act_change_new (
  act_id INTEGER NOT NULL REFERENCES sheet_act (id),
  row_key INTEGER NOT NULL REFERENCES specimen_row (key),
  dimension TEXT NOT NULL,
  before_json TEXT ${json("before_json")},
  after_json TEXT ${json("after_json")},
  after_digest BLOB NOT NULL,
  PRIMARY KEY (act_id, row_key, dimension)
) STRICT, WITHOUT ROWID;
INSERT INTO sheet_act_change_new
  SELECT c.act_id, r.key, c.dimension, c.before_json, c.after_json, coalesce(unhex(c.after_digest), x'')
  FROM sheet_act_change c CROSS JOIN specimen_row r ON r.id = c.row_id ORDER BY c.act_id, r.key, c.dimension;
${sameCount("sheet_act_change")}
DROP TABLE sheet_act_change;
ALTER TABLE sheet_act_change_new RENAME TO sheet_act_change;
`;

/** The rows of sheets, their measurements and their journal in fewer bytes; every value is the one that was there. */
export const rowsByNumber: Migration = {
  version: 280,
  name: "rows by number",
  rebuildsTables: true,
  sql: rows + measurements + histories + journal,
};
