import { createHash } from "node:crypto";
import type { TrailSearch } from "#core/contract/records/list-search.ts";
import { type TrailHead, TrailLine } from "#core/contract/records/trail.ts";
import { canonicalJson } from "../canonical-json.ts";
import { all, one, type ReadableDb, run, type WritableDb } from "../connection.ts";
import { trailWhere } from "./list-search.ts";

/** The hash that the first line of a trail follows. */
export const NO_LINE_BEFORE = "0".repeat(64);

export interface NewTrailLine {
  readonly at: string;
  readonly personId: string | null;
  readonly act: string;
  readonly subject: string;
  readonly subjectId: string;
  readonly reason: string | null;
  readonly detail: object;
}

const COLUMNS = `sequence, at, person_id AS "personId", act, subject, subject_id AS "subjectId", reason, detail, hash`;

/** SHA-256 over the canonical JSON of every column but the hash, and the hash of the line before. */
export function hashOfLine(line: Omit<TrailLine, "hash">, previous: string): string {
  const { sequence, at, personId, act, subject, subjectId, reason, detail } = line;
  const text = canonicalJson({ sequence, at, personId, act, subject, subjectId, reason, detail, previous });
  return createHash("sha256").update(text, "utf8").digest("hex");
}

/** The newest line; null on a bench that has none. Its hash stands for every line before it. */
export function headOfTrail(db: ReadableDb): { readonly sequence: number; readonly hash: string } | null {
  const last = one(db, "SELECT sequence, hash FROM audit_line ORDER BY sequence DESC LIMIT 1");
  return last ? { sequence: Number(last.sequence), hash: String(last.hash) } : null;
}

/** The hash of one line; null where there is none of that number. */
export function hashAtLine(db: ReadableDb, sequence: number): string | null {
  const line = one(db, "SELECT hash FROM audit_line WHERE sequence = ?", sequence);
  return line ? String(line.hash) : null;
}

/** The head as exports and prints name it; null on a bench without a line. */
export function trailHeadOf(db: ReadableDb): TrailHead | null {
  const head = headOfTrail(db);
  return head && `${head.sequence}:${head.hash}`;
}

/**
 * Adds one line, in the transaction of the act it tells of: both are there or neither.
 * @returns its number
 */
export function appendTrail(db: WritableDb, line: NewTrailLine): number {
  const last = headOfTrail(db);
  const sequence = (last?.sequence ?? 0) + 1;
  const full = { ...line, sequence, detail: canonicalJson(line.detail) };
  const hash = hashOfLine(full, last?.hash ?? NO_LINE_BEFORE);
  run(
    db,
    `INSERT INTO audit_line (sequence, at, person_id, act, subject, subject_id, reason, detail, hash)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    sequence,
    full.at,
    full.personId,
    full.act,
    full.subject,
    full.subjectId,
    full.reason,
    full.detail,
    hash,
  );
  return sequence;
}

/** Whether any line tells of a record under that identifier. */
export function isInTrail(db: ReadableDb, subjectId: string): boolean {
  return one(db, "SELECT 1 FROM audit_line WHERE subject_id = ? LIMIT 1", subjectId) !== undefined;
}

const EVERY_LINE: TrailSearch = { words: "", personId: null, since: null, until: null };

/** Newest first, below `before`; from the end when null. */
export function trailBefore(
  db: ReadableDb,
  before: number | null,
  count: number,
  search: TrailSearch = EVERY_LINE,
): TrailLine[] {
  const { sql, bound } = trailWhere(search);
  return all(
    db,
    `SELECT ${COLUMNS} FROM audit_line WHERE sequence < ? AND ${sql} ORDER BY sequence DESC LIMIT ?`,
    before ?? Number.MAX_SAFE_INTEGER,
    ...bound,
    count,
  ).map((row) => TrailLine.parse(row));
}

/** Oldest first, above `after`; unparsed where a line was tampered with, so that it can still be named. */
export function trailAfter(db: ReadableDb, after: number, count: number): TrailLine[] {
  return all(
    db,
    `SELECT ${COLUMNS} FROM audit_line WHERE sequence > ? ORDER BY sequence LIMIT ?`,
    after,
    count,
  ) as unknown as TrailLine[];
}

const WINDOW = 4000;

/** The number of the last of the next few thousand lines; null: there is none. */
function endOfWindow(db: ReadableDb, after: number): number | null {
  const row = one(
    db,
    `SELECT max(sequence) AS last FROM
       (SELECT sequence FROM audit_line WHERE sequence > ? ORDER BY sequence LIMIT ${WINDOW})`,
    after,
  );
  return typeof row?.last === "number" ? row.last : null;
}

/**
 * The lines among the next few thousand above `after` that do not tell of single readings or presses, unparsed.
 * @returns the lines, and the last number looked at; null: there was none
 */
export function linesBeyondRows(
  db: ReadableDb,
  after: number,
): { readonly lines: TrailLine[]; readonly last: number | null } {
  const last = endOfWindow(db, after);
  if (last === null) return { lines: [], last };
  const lines = all(
    db,
    `SELECT ${COLUMNS} FROM audit_line WHERE sequence > ? AND sequence <= ? AND subject <> 'specimen_row'
       AND act NOT IN ('tallies.newField', 'tallies.pause', 'tallies.resume') ORDER BY sequence`,
    after,
    last,
  );
  return { lines: lines as unknown as TrailLine[], last };
}

/**
 * Rows that the next few thousand lines above `after` tell of and that are not there.
 * @returns the first line about each of them, and the last number looked at; null: there was none
 */
export function rowsOnlyInTrail(
  db: ReadableDb,
  after: number,
): { readonly gone: { readonly id: string; readonly sequence: number }[]; readonly last: number | null } {
  const last = endOfWindow(db, after);
  if (last === null) return { gone: [], last };
  const gone = all(
    db,
    `SELECT a.subject_id AS id, min(a.sequence) AS sequence FROM audit_line a
     WHERE a.sequence > ? AND a.sequence <= ? AND a.subject = 'specimen_row'
       AND NOT EXISTS (SELECT 1 FROM specimen_row r WHERE r.id = a.subject_id) GROUP BY a.subject_id`,
    after,
    last,
  );
  return { gone: gone.map(({ id, sequence }) => ({ id: String(id), sequence: Number(sequence) })), last };
}

/** The lines about one record, oldest first. */
export const TRAIL_OF_SUBJECT = `SELECT ${COLUMNS} FROM audit_line WHERE subject_id = ? ORDER BY sequence`;

export function trailOf(db: ReadableDb, subjectId: string): TrailLine[] {
  return all(db, TRAIL_OF_SUBJECT, subjectId) as unknown as TrailLine[];
}

/** The lines about each of some records, oldest first; records without a line are left out. */
export function trailsOf(db: ReadableDb, subjectIds: readonly string[]): Map<string, TrailLine[]> {
  const lines = all(
    db,
    `SELECT ${COLUMNS} FROM json_each(?) j CROSS JOIN audit_line a ON a.subject_id = j.value
     ORDER BY j.key, sequence`,
    JSON.stringify(subjectIds),
  ) as unknown as TrailLine[];
  return Map.groupBy(lines, (line) => line.subjectId);
}

/** The acts that put a kept result aside; of those the partial index `audit_line_amendment` has the lines. */
const REPLACING = "a.act IN ('rows.changeObjective', 'rows.convert', 'rows.undo', 'rows.redo')";

/** Lines of acts that replaced or took away results of rows, by number above `after`. */
export function replacingLines(db: ReadableDb, after: number, count: number): TrailLine[] {
  return all(
    db,
    `SELECT ${COLUMNS} FROM audit_line a WHERE ${REPLACING} AND sequence > ? ORDER BY sequence LIMIT ?`,
    after,
    count,
  ) as unknown as TrailLine[];
}

/**
 * The amendments of one sheet, oldest first: of its rows, the re-evaluations that converted results of it, and flags
 * that followed a check withdrawn. The acts
 * of rows named here are those of the partial index
 * `audit_line_amendment`, which keeps this quick on a long sheet with few amendments.
 */
export function amendmentsOfSheet(db: ReadableDb, sheetId: string): TrailLine[] {
  return all(
    db,
    `SELECT a.sequence, a.at, a.person_id AS "personId", a.act, a.subject, a.subject_id AS "subjectId", a.reason,
       a.detail, a.hash
     FROM specimen_row r JOIN audit_line a INDEXED BY audit_line_amendment ON a.subject_id = r.id
     WHERE r.sheet_id = :sheetId AND a.act IN ('rows.amend', 'rows.describe', 'rows.strike',
       'rows.changeObjective', 'rows.convert', 'rows.undo', 'rows.redo')
     UNION ALL
     SELECT ${COLUMNS} FROM audit_line WHERE subject_id = :sheetId
       AND act IN ('sheets.reevaluated', 'sheets.flagsFollowed')
     ORDER BY 1`,
    { sheetId },
  ).map((row) => TrailLine.parse(row));
}
