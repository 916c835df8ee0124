import type { DayOfWork } from "#core/practice/unproven-work.ts";
import { columns } from "../columns.ts";
import type { ReadableDb } from "../connection.ts";
import { type Query, sql } from "../sql.ts";

const ofSheet = (
  id: string,
  after: string,
): Query => sql`SELECT ms.entered_by AS "personId", min(m.entered_at) AS first, max(m.entered_at) AS last
  FROM specimen_row r CROSS JOIN measurement m ON m.row_key = r.key
    CROSS JOIN measurement_source ms ON ms.id = m.source
  WHERE r.sheet_id = ${id} AND r.undone_at IS NULL AND m.entered_at > ${after}
  GROUP BY ms.entered_by, substr(m.entered_at, 1, 10) ORDER BY first, ms.entered_by`;

const ofCount = (
  id: string,
  after: string,
): Query => sql`SELECT by_person AS "personId", min(at) AS first, max(at) AS last FROM tally_event
  WHERE tally_id = ${id} AND at > ${after} AND kind = 'press' AND struck_by IS NULL
  GROUP BY by_person, substr(at, 1, 10) ORDER BY first, by_person`;

const dayOf = columns({ personId: "text", first: "text", last: "text" });

/** Who worked on a sheet or a count, day by day in order, after an instant. */
export function workDays(db: ReadableDb, work: "sheet" | "count", id: string, after: string): DayOfWork[] {
  return (work === "sheet" ? ofSheet(id, after) : ofCount(id, after)).all(db, dayOf);
}
