import { never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";
import { packTrail } from "./pack-trail.ts";

/** What repeats in the trail is kept once; identifiers, instants and hashes as bytes. The hashed texts stay what they are. */
export const trailStoredOnce: Migration = {
  version: 270,
  name: "what repeats in the trail is stored once",
  rebuildsTables: true,
  sql: `
CREATE TABLE audit_kind (
  id INTEGER NOT NULL PRIMARY KEY,
  person_id TEXT REFERENCES person (id),
  act TEXT NOT NULL,
  subject TEXT NOT NULL
) STRICT;
CREATE UNIQUE INDEX audit_kind_once ON audit_kind (act, subject, coalesce(person_id, ''));
CREATE TABLE audit_model (
  id INTEGER NOT NULL PRIMARY KEY,
  kind INTEGER NOT NULL REFERENCES audit_kind (id),
  number INTEGER NOT NULL CHECK (number >= 1),
  sequence INTEGER NOT NULL,
  text TEXT NOT NULL,
  UNIQUE (kind, number)
) STRICT;
CREATE TABLE audit_line_packed (
  sequence INTEGER NOT NULL PRIMARY KEY CHECK (sequence >= 1),
  at ANY NOT NULL CHECK (typeof(at) IN ('integer', 'text')),
  kind INTEGER NOT NULL REFERENCES audit_kind (id),
  subject_id ANY NOT NULL CHECK (typeof(subject_id) = 'text' OR length(subject_id) = 16),
  reason TEXT,
  model INTEGER REFERENCES audit_model (id),
  detail BLOB NOT NULL,
  hash BLOB NOT NULL CHECK (length(hash) = 32),
  amends INTEGER CHECK (amends = 1)
) STRICT;
`,
  rewrite: packTrail,
  afterwards: `
DROP TABLE audit_line;
ALTER TABLE audit_line_packed RENAME TO audit_line;
CREATE INDEX audit_line_by_subject ON audit_line (subject_id);
CREATE INDEX audit_line_amendment ON audit_line (subject_id) WHERE amends = 1;
${["audit_kind", "audit_model", "audit_line"]
  .map(
    (table) =>
      never(`${table}_stays`, "UPDATE", table, "", "the audit trail is append-only") +
      never(`${table}_not_deleted`, "DELETE", table, "", "the audit trail is append-only"),
  )
  .join("\n")}
`,
};
