import { instant, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** Certificates of practice taken back by an examiner, who is somebody else than the reader; the certificates stay. */
export const practiceWithdrawals: Migration = {
  version: 260,
  name: "withdrawn certificates of practice",
  sql: `
CREATE TABLE practice_withdrawal (
  certificate_id TEXT NOT NULL PRIMARY KEY REFERENCES practice_certificate (id),
  examiner_id TEXT NOT NULL REFERENCES person (id),
  at TEXT NOT NULL ${instant("at")},
  reason TEXT NOT NULL CHECK (reason <> ''),
  reset_at TEXT ${instant("reset_at")},
  reset_voucher TEXT REFERENCES person (id),
  CHECK ((reset_at IS NULL) = (reset_voucher IS NULL))
) STRICT;
${never("practice_withdrawal_stays", "UPDATE", "practice_withdrawal", "", "a withdrawal is not edited")}
${never("practice_withdrawal_not_deleted", "DELETE", "practice_withdrawal", "", "a withdrawal is not deleted")}
${never(
  "practice_withdrawal_not_own",
  "INSERT",
  "practice_withdrawal",
  `WHEN NEW.examiner_id = (
    SELECT a.person_id FROM practice_certificate c JOIN practice_attempt a ON a.id = c.attempt_id
    WHERE c.id = NEW.certificate_id)`,
  "nobody examines themselves",
)}
`,
};
