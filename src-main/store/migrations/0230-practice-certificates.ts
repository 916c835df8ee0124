import { instant, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** Attempts at practice signed by an examiner, who is somebody else than the reader. */
export const practiceCertificates: Migration = {
  version: 230,
  name: "certificates of practice",
  sql: `
CREATE TABLE practice_certificate (
  id TEXT NOT NULL PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE CHECK (number >= 1),
  attempt_id TEXT NOT NULL UNIQUE REFERENCES practice_attempt (id),
  examiner_id TEXT NOT NULL REFERENCES person (id),
  at TEXT NOT NULL ${instant("at")},
  words TEXT NOT NULL,
  attempt_sha256 TEXT NOT NULL CHECK (length(attempt_sha256) = 64 AND attempt_sha256 NOT GLOB '*[^0-9a-f]*'),
  reset_at TEXT ${instant("reset_at")},
  reset_voucher TEXT REFERENCES person (id),
  CHECK ((reset_at IS NULL) = (reset_voucher IS NULL))
) STRICT;
${never("practice_certificate_stays", "UPDATE", "practice_certificate", "", "a certificate of practice is not edited")}
${never("practice_certificate_not_deleted", "DELETE", "practice_certificate", "", "a certificate of practice is not deleted")}
${never(
  "practice_certificate_not_own",
  "INSERT",
  "practice_certificate",
  "WHEN NEW.examiner_id = (SELECT person_id FROM practice_attempt WHERE id = NEW.attempt_id)",
  "nobody examines themselves",
)}
`,
};
