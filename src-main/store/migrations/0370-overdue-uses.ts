import { instant, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** What was used past its due date, knowingly: who and why. And half-typed text of second readings, for after a crash. */
export const overdueUses: Migration = {
  version: 370,
  name: "overdue used knowingly, half-typed second readings",
  sql: `
CREATE TABLE overdue_use (
  id TEXT NOT NULL PRIMARY KEY,
  work TEXT NOT NULL CHECK (work IN ('sheet', 'count', 'calibration')),
  work_id TEXT NOT NULL,
  calibration_id TEXT NOT NULL REFERENCES calibration (id),
  calibration_due_on TEXT,
  certificate_due_on TEXT,
  reason TEXT NOT NULL CHECK (reason <> ''),
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id),
  CHECK (calibration_due_on IS NOT NULL OR certificate_due_on IS NOT NULL)
) STRICT;
CREATE INDEX overdue_use_by_work ON overdue_use (work_id, work);
${never("overdue_use_stays", "UPDATE", "overdue_use", "", "what was said of an overdue date is not edited")}
${never("overdue_use_not_deleted", "DELETE", "overdue_use", "", "what was said of an overdue date is not deleted")}

CREATE TABLE second_reading_draft (
  second_reading_id TEXT NOT NULL REFERENCES second_reading (id),
  row_id TEXT NOT NULL,
  dimension TEXT NOT NULL,
  edge TEXT NOT NULL CHECK (edge IN ('left', 'right', 'direct')),
  repeat INTEGER NOT NULL CHECK (repeat BETWEEN 1 AND 10),
  typed TEXT NOT NULL,
  PRIMARY KEY (second_reading_id, row_id, dimension, edge, repeat)
) STRICT, WITHOUT ROWID;
`,
};
