import { RepeatReading } from "#core/contract/records/sheet.ts";
import { all, type ReadableDb } from "../connection.ts";

/** Habits change: only the newest specimens speak for the next reading. */
const NEWEST = 200;

const REPEATED = `SELECT m.left_typed AS "left", m.right_typed AS "right", m.direct_typed AS direct,
    m.repeats_json AS repeats
  FROM measurement m JOIN specimen_row r ON r.id = m.row_id
  WHERE m.entered_by = ? AND m.repeats_json <> '[]' AND r.struck_at IS NULL AND r.undone_at IS NULL
  ORDER BY m.entered_at DESC, m.row_id, m.dimension LIMIT ${NEWEST}`;

/** The readings of each dimension that a person read more than once, newest first, as typed. */
export function repeatReadingsOf(db: ReadableDb, personId: string): RepeatReading[][] {
  return all(db, REPEATED, personId).map(({ repeats, ...first }) => [
    RepeatReading.parse({ number: 1, ...first }),
    ...RepeatReading.array().parse(JSON.parse(String(repeats))),
  ]);
}
