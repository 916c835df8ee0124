import { decimal, instant, json, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/**
 * Assessments of calibrations, each kept beside those before; and what certificates say beyond U and k: effective
 * degrees of freedom, a part of U that grows with the length, and U of each line. NULL where not stated.
 */
export const assessments: Migration = {
  version: 80,
  name: "assessments of calibrations, fuller certificates",
  sql: `
CREATE TABLE calibration_assessment (
  calibration_id TEXT NOT NULL REFERENCES calibration (id),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 1),
  assessment_json TEXT NOT NULL ${json("assessment_json")},
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id),
  reason TEXT NOT NULL,
  PRIMARY KEY (calibration_id, ordinal)
) STRICT, WITHOUT ROWID;
${never("calibration_assessment_stays", "UPDATE", "calibration_assessment", "", "an assessment is not edited: assess anew")}
${never("calibration_assessment_not_deleted", "DELETE", "calibration_assessment", "", "an assessment is not deleted")}
ALTER TABLE certificate ADD COLUMN degrees_of_freedom TEXT ${decimal("degrees_of_freedom")};
ALTER TABLE certificate ADD COLUMN uncertainty_per_mm TEXT ${decimal("uncertainty_per_mm")};
ALTER TABLE certificate_line ADD COLUMN expanded_uncertainty TEXT ${decimal("expanded_uncertainty")};
`,
};
