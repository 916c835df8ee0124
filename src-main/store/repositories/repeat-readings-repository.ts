import { RepeatReading } from "#core/contract/records/sheet.ts";
import type { ReadableDb } from "../connection.ts";
import { sql } from "../sql.ts";

/** Habits change: only the newest specimens speak for the next reading. */
const NEWEST = 200;

/** The readings of each dimension that a person read more than once, newest first, as typed. */
export function repeatReadingsOf(db: ReadableDb, personId: string): RepeatReading[][] {
  return (
    sql`SELECT id FROM measurement_source WHERE entered_by = ${personId}`
      .all(db)
      // Of one train and reader, of which few persons have many: the index gives them in order.
      .flatMap(({ id }) =>
        sql`SELECT m.left_typed AS "left", m.right_typed AS "right", m.direct_typed AS direct,
            m.repeats_json AS repeats, m.entered_at AS at
          FROM measurement m CROSS JOIN specimen_row r ON r.key = m.row_key
          WHERE m.source = ${Number(id)} AND m.repeats_json <> '[]' AND r.struck_at IS NULL
          AND r.undone_at IS NULL
          ORDER BY m.entered_at DESC, m.row_key DESC, m.dimension LIMIT ${NEWEST}`.all(db),
      )
      .sort((a, b) => (String(a.at) < String(b.at) ? 1 : String(a.at) > String(b.at) ? -1 : 0))
      .slice(0, NEWEST)
      .map(({ repeats, at: _, ...first }) => [
        RepeatReading.parse({ number: 1, ...first }),
        ...RepeatReading.array().parse(JSON.parse(String(repeats))),
      ])
  );
}
