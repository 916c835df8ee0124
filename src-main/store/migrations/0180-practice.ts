import { instant, json, never } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

/** Practice at the drawn eyepiece: attempts and their answers, apart from all real work. */
export const practice: Migration = {
  version: 180,
  name: "practice attempts and answers",
  sql: `
CREATE TABLE practice_attempt (
  id TEXT NOT NULL PRIMARY KEY,
  exercise TEXT NOT NULL CHECK (exercise <> ''),
  version INTEGER NOT NULL CHECK (version >= 1),
  seed INTEGER NOT NULL,
  person_id TEXT NOT NULL REFERENCES person (id),
  criteria_json TEXT NOT NULL ${json("criteria_json")},
  begun_at TEXT NOT NULL ${instant("begun_at")},
  result_json TEXT ${json("result_json")},
  ended_at TEXT ${instant("ended_at")},
  CHECK (result_json IS NULL OR ended_at IS NOT NULL)
) STRICT;
CREATE INDEX practice_attempt_by_person ON practice_attempt (person_id, begun_at);
${never("practice_attempt_not_deleted", "DELETE", "practice_attempt", "", "an attempt is not deleted")}
${never("practice_attempt_stays", "UPDATE", "practice_attempt", "WHEN OLD.ended_at IS NOT NULL", "an ended attempt is not edited")}
CREATE TABLE practice_answer (
  attempt_id TEXT NOT NULL REFERENCES practice_attempt (id),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 1),
  typed_json TEXT NOT NULL ${json("typed_json")},
  at TEXT NOT NULL ${instant("at")},
  PRIMARY KEY (attempt_id, ordinal)
) STRICT, WITHOUT ROWID;
${never("practice_answer_stays", "UPDATE", "practice_answer", "", "an answer is not edited")}
${never("practice_answer_not_deleted", "DELETE", "practice_answer", "", "an answer is not deleted")}
`,
};
