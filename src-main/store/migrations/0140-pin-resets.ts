import { instant, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/**
 * Who was confirmed by whom, so that an invented person vouches for nobody; each reset of a PIN, until its owner has
 * confirmed it; and the mark on what was signed in between. Who had a PIN before the rule counts as confirmed by it.
 */
export const pinResets: Migration = {
  version: 140,
  name: "confirmed people, resets of a PIN and their mark on signatures",
  sql: `
CREATE TABLE person_confirmation (
  person_id TEXT NOT NULL PRIMARY KEY REFERENCES person (id),
  at TEXT NOT NULL ${instant("at")},
  by TEXT NOT NULL REFERENCES person (id)
) STRICT, WITHOUT ROWID;
INSERT INTO person_confirmation (person_id, at, by) SELECT person_id, set_at, person_id FROM person_pin;
${never("person_confirmation_stays", "UPDATE", "person_confirmation", "", "a confirmation is not edited")}
${never("person_confirmation_not_deleted", "DELETE", "person_confirmation", "", "a confirmation is not deleted")}

CREATE TABLE pin_reset (
  person_id TEXT NOT NULL REFERENCES person (id),
  at TEXT NOT NULL ${instant("at")},
  voucher_id TEXT NOT NULL REFERENCES person (id),
  reason TEXT NOT NULL CHECK (reason <> ''),
  scheme TEXT NOT NULL,
  salt TEXT NOT NULL,
  hash TEXT NOT NULL,
  confirmed_at TEXT ${instant("confirmed_at")},
  confirmed_by TEXT REFERENCES person (id),
  PRIMARY KEY (person_id, at),
  CHECK ((confirmed_at IS NULL) = (confirmed_by IS NULL))
) STRICT, WITHOUT ROWID;
${never(
  "pin_reset_stays",
  "UPDATE",
  "pin_reset",
  "WHEN OLD.confirmed_at IS NOT NULL OR NEW.person_id <> OLD.person_id OR NEW.at <> OLD.at " +
    "OR NEW.voucher_id <> OLD.voucher_id OR NEW.reason <> OLD.reason OR NEW.scheme <> OLD.scheme " +
    "OR NEW.salt <> OLD.salt OR NEW.hash <> OLD.hash",
  "a reset of a PIN is not edited",
)}
${never("pin_reset_not_deleted", "DELETE", "pin_reset", "", "a reset of a PIN is not deleted")}

ALTER TABLE sheet_sign_off ADD COLUMN reset_at TEXT ${instant("reset_at")};
ALTER TABLE sheet_sign_off ADD COLUMN reset_voucher TEXT REFERENCES person (id)
  CHECK ((reset_at IS NULL) = (reset_voucher IS NULL));
${never(
  "sheet_sign_off_mark_stays",
  "UPDATE",
  "sheet_sign_off",
  "WHEN NEW.reset_at IS NOT OLD.reset_at OR NEW.reset_voucher IS NOT OLD.reset_voucher",
  "the mark of a signature is not edited",
)}
`,
};
