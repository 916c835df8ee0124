import { instant, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

const sha256 = (column: string): string =>
  `CHECK (length(${column}) = 64 AND ${column} NOT GLOB '*[^0-9a-f]*')`;

/** Fields of a count may be placed by a square of a finder slide, and pictures may be attached to them. */
export const picturesOfFields: Migration = {
  version: 460,
  name: "pictures of fields",
  rebuildsTables: true,
  sql: `
ALTER TABLE tally_field ADD COLUMN square_typed TEXT
  CHECK (square_typed IS NULL OR (square_typed <> '' AND x_typed IS NOT NULL));
CREATE TABLE attachment_new (
  id TEXT NOT NULL PRIMARY KEY,
  subject_kind TEXT NOT NULL CHECK (subject_kind IN ('certificate', 'stage micrometer', 'microscope', 'objective',
    'eyepiece', 'calibration', 'specimen row', 'count field')),
  subject_id TEXT NOT NULL,
  subject_field INTEGER CHECK (subject_field >= 1),
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
  CHECK ((withdrawn_at IS NULL) = (withdrawn_by IS NULL) AND (withdrawn_at IS NULL) = (withdrawn_reason IS NULL)),
  CHECK (subject_kind NOT IN ('specimen row', 'count field') OR media_type <> 'application/pdf'),
  CHECK ((subject_kind = 'count field') = (subject_field IS NOT NULL))
) STRICT;
INSERT INTO attachment_new SELECT id, subject_kind, subject_id, NULL, file_name, media_type, bytes, sha256, caption,
  added_at, added_by, withdrawn_at, withdrawn_by, withdrawn_reason FROM attachment ORDER BY rowid;
DROP TABLE attachment;
ALTER TABLE attachment_new RENAME TO attachment;
CREATE INDEX attachment_by_subject ON attachment (subject_kind, subject_id);
${never(
  "attachment_stays",
  "UPDATE OF id, subject_kind, subject_id, subject_field, file_name, media_type, bytes, sha256, caption, added_at, added_by",
  "attachment",
  "",
  "an attachment is not edited: withdraw it",
)}
${never("attachment_not_deleted", "DELETE", "attachment", "", "an attachment is withdrawn, not deleted")}
`,
};
