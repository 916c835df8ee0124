import { instant, never, typed } from "./0010-foundation.ts";
import type { Migration } from "./migration.ts";

const stays = (table: string, words: string): string =>
  never(`${table}_stays`, "UPDATE", table, "", `${words} is not edited`) +
  never(`${table}_not_deleted`, "DELETE", table, "", `${words} is not deleted`);

/** People who practise together, and what they read of real material; nothing of it is put in force. */
export const practiceClasses: Migration = {
  version: 240,
  name: "classes of practice",
  sql: `
CREATE TABLE practice_class (
  id TEXT NOT NULL PRIMARY KEY,
  name TEXT NOT NULL CHECK (name <> ''),
  seed INTEGER,
  slide TEXT NOT NULL,
  intervals INTEGER NOT NULL CHECK (intervals >= 1),
  repeats INTEGER NOT NULL CHECK (repeats >= 1),
  made_at TEXT NOT NULL ${instant("made_at")},
  made_by TEXT NOT NULL REFERENCES person (id)
) STRICT;
${stays("practice_class", "a class")}
CREATE TABLE practice_class_member (
  class_id TEXT NOT NULL REFERENCES practice_class (id),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 1),
  person_id TEXT NOT NULL REFERENCES person (id),
  PRIMARY KEY (class_id, ordinal),
  UNIQUE (class_id, person_id)
) STRICT, WITHOUT ROWID;
${stays("practice_class_member", "the list of a class")}
CREATE TABLE practice_slide_reading (
  class_id TEXT NOT NULL,
  person_id TEXT NOT NULL,
  interval INTEGER NOT NULL CHECK (interval >= 1),
  repeat INTEGER NOT NULL CHECK (repeat >= 1),
  left_typed TEXT NOT NULL ${typed("left_typed")},
  right_typed TEXT NOT NULL ${typed("right_typed")},
  at TEXT NOT NULL ${instant("at")},
  PRIMARY KEY (class_id, person_id, interval, repeat),
  FOREIGN KEY (class_id, person_id) REFERENCES practice_class_member (class_id, person_id)
) STRICT, WITHOUT ROWID;
${stays("practice_slide_reading", "a reading of a class")}
`,
};
