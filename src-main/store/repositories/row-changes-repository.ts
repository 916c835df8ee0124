import type { ReadableDb } from "../connection.ts";
import { firstText, type Query, sql } from "../sql.ts";
import { idTextSql } from "../trail-packing.ts";

/** Number of the trail's last line; 0 when there is none. */
export function lastSequence(db: ReadableDb): number {
  return sql`SELECT coalesce(max(sequence), 0) AS last FROM audit_line`.number(db);
}

/**
 * Rows of one sheet that lines of the trail above `since` are about: by the row itself, or by a slice of a
 * re-evaluation, whose line speaks for all the results it kept.
 */
const changedSince = (sheetId: string, since: number): Query => sql`SELECT r.id FROM (
    SELECT ${idTextSql("a.subject_id")} AS id FROM audit_line a CROSS JOIN audit_kind k ON k.id = a.kind
      WHERE a.sequence > ${since} AND k.subject = 'specimen_row'
    UNION
    SELECT s.row_id FROM reevaluation_slice l CROSS JOIN superseded_measurement s
      ON s.id BETWEEN l.first_superseded_id AND l.last_superseded_id WHERE l.audit_sequence > ${since}
  ) c CROSS JOIN specimen_row r ON r.id = c.id WHERE r.sheet_id = ${sheetId}`;

export function rowsChangedSince(db: ReadableDb, sheetId: string, since: number): string[] {
  return changedSince(sheetId, since).all(db, firstText);
}
