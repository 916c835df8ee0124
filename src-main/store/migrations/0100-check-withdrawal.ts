import { instant, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/**
 * A mistaken quick check is taken back with a reason; the check itself stays as it was recorded. A tolerance of factors
 * says by which rule it decides; those of before say none and go by guarded acceptance, as the program always did.
 */
export const checkWithdrawal: Migration = {
  version: 100,
  name: "withdrawal of a quick check, rule of a tolerance",
  sql: `
CREATE TABLE calibration_check_withdrawal (
  check_id TEXT NOT NULL PRIMARY KEY REFERENCES calibration_check (id),
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id),
  reason TEXT NOT NULL CHECK (reason <> '')
) STRICT, WITHOUT ROWID;
${never("calibration_check_withdrawal_stays", "UPDATE", "calibration_check_withdrawal", "", "a withdrawal is not edited")}
${never("calibration_check_withdrawal_not_deleted", "DELETE", "calibration_check_withdrawal", "", "a withdrawal is not deleted")}
ALTER TABLE trend_tolerance ADD COLUMN rule TEXT CHECK (rule IN ('simple-acceptance', 'guarded-acceptance'));
`,
};
