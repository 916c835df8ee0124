import { createHash } from "node:crypto";
import { type TrailHead, TrailLine } from "#core/contract/records/trail.ts";
import { storedAct, storedSubject } from "#core/contract/stored-names.ts";
import { eventOf, type ToldEvent } from "#core/contract/trail-events/read-event.ts";
import type { TrailEvent } from "#core/contract/trail-events/trail-event.ts";
import { canonicalJson } from "../canonical-json.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { type Query, sql } from "../sql.ts";
import { idTextSql, packedIdSql, packId } from "../trail-packing.ts";
import { hashText, insertLine, LINE, LINES, lineOf } from "./trail-lines.ts";

/** The hash that the first line of a trail follows. */
export const NO_LINE_BEFORE = "0".repeat(64);

/** SHA-256 over the canonical JSON of every column but the hash, and the hash of the line before. */
export function hashOfLine(line: Omit<TrailLine, "hash">, previous: string): string {
  const { sequence, at, personId, act, subject, subjectId, reason, detail } = line;
  const text = canonicalJson({ sequence, at, personId, act, subject, subjectId, reason, detail, previous });
  return createHash("sha256").update(text, "utf8").digest("hex");
}

/** The newest line; null on a bench that has none. Its hash stands for every line before it. */
export function headOfTrail(db: ReadableDb): { readonly sequence: number; readonly hash: string } | null {
  return sql`SELECT sequence, hash FROM audit_line ORDER BY sequence DESC LIMIT 1`.one(db, (last) => ({
    sequence: Number(last.sequence),
    hash: hashText(last.hash),
  }));
}

/** The hash of one line; null where there is none of that number. */
export function hashAtLine(db: ReadableDb, sequence: number): string | null {
  return sql`SELECT hash FROM audit_line WHERE sequence = ${sequence}`.one(db, (line) => hashText(line.hash));
}

/** The head as exports and prints name it; null on a bench without a line. */
export function trailHeadOf(db: ReadableDb): TrailHead | null {
  const head = headOfTrail(db);
  return head && `${head.sequence}:${head.hash}`;
}

/**
 * Adds one line, in the transaction of the act it tells of: both are there or neither.
 * @param by who did it, null before anyone has named themselves, and when
 * @returns its number
 */
export function appendTrail(
  db: WritableDb,
  { act, subject, subjectId, reason = null, detail }: TrailEvent,
  by: Pick<TrailLine, "at" | "personId">,
): number {
  const last = headOfTrail(db);
  const sequence = (last?.sequence ?? 0) + 1;
  const stored = { act: storedAct(act), subject: storedSubject(subject), detail: canonicalJson(detail) };
  const full = { ...by, ...stored, sequence, subjectId, reason };
  const hash = hashOfLine(full, last?.hash ?? NO_LINE_BEFORE);
  insertLine(db, "audit_line", { ...full, hash });
  return sequence;
}

/** Whether any line tells of a record under that identifier. */
export function isInTrail(db: ReadableDb, subjectId: string): boolean {
  return sql`SELECT 1 FROM audit_line WHERE subject_id = ${packId(subjectId)} LIMIT 1`.exists(db);
}

/** Lines about the bench itself are few: they are found by their subject, not among all. */
export const ofTheBench = (act: string): Query =>
  sql`SELECT ${LINE} FROM ${LINES} WHERE a.subject_id = 'bench' AND k.act = ${act} ORDER BY a.sequence`;

/** The newest line of an act on the bench itself; null where there is none. */
export function lastOfBench(db: ReadableDb, act: string): TrailLine | null {
  return sql`${ofTheBench(act)} DESC LIMIT 1`.one(db, lineOf);
}

/** Every line of an act on the bench itself, oldest first. */
export function linesOfBench(db: ReadableDb, act: string): TrailLine[] {
  return ofTheBench(act).all(db, lineOf);
}

/** Newest first, below `before`; from the end when null. */
export function trailBefore(db: ReadableDb, before: number | null, count: number): TrailLine[] {
  return sql`SELECT ${LINE} FROM ${LINES}
    WHERE a.sequence < ${before ?? Number.MAX_SAFE_INTEGER}
    ORDER BY a.sequence DESC LIMIT ${count}`.all(db, (row) => TrailLine.parse(lineOf(row)));
}

/** Oldest first, above `after`; unparsed where a line was tampered with, so that it can still be named. */
export function trailAfter(db: ReadableDb, after: number, count: number): TrailLine[] {
  return sql`SELECT ${LINE} FROM ${LINES} WHERE a.sequence > ${after} ORDER BY a.sequence
    LIMIT ${count}`.all(db, lineOf);
}

const WINDOW = 4000;

/** The number of the last of the next few thousand lines; null: there is none. */
function endOfWindow(db: ReadableDb, after: number): number | null {
  const row = sql`SELECT max(sequence) AS last FROM
    (SELECT sequence FROM audit_line WHERE sequence > ${after} ORDER BY sequence LIMIT ${WINDOW})`.one(db);
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
  const lines = sql`SELECT ${LINE} FROM ${LINES} WHERE a.sequence > ${after} AND a.sequence <= ${last}
    AND k.subject <> 'specimen_row'
    AND k.act NOT IN ('tallies.newField', 'tallies.pause', 'tallies.resume') ORDER BY a.sequence`.all(db);
  return { lines: lines.map(lineOf), last };
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
  const gone = sql`SELECT ${idTextSql("a.subject_id")} AS id, min(a.sequence) AS sequence FROM ${LINES}
    WHERE a.sequence > ${after} AND a.sequence <= ${last} AND k.subject = 'specimen_row'
      AND NOT EXISTS (SELECT 1 FROM specimen_row r WHERE r.id = ${idTextSql("a.subject_id")})
      GROUP BY 1`.all(db);
  return { gone: gone.map(({ id, sequence }) => ({ id: String(id), sequence: Number(sequence) })), last };
}

/** The lines about one record, oldest first. */
export const trailOfSubject = (subjectId: string): Query =>
  sql`SELECT ${LINE} FROM ${LINES} WHERE a.subject_id = ${packId(subjectId)} ORDER BY a.sequence`;

export function trailOf(db: ReadableDb, subjectId: string): TrailLine[] {
  return trailOfSubject(subjectId).all(db, lineOf);
}

/** The same as the events they tell. @throws SyntaxError for a line that was changed from outside beyond reading */
export function eventsOf(db: ReadableDb, subjectId: string): ToldEvent[] {
  return trailOf(db, subjectId).map(eventOf);
}

/** The lines about each of some records, oldest first; records without a line are left out. */
export function trailsOf(db: ReadableDb, subjectIds: readonly string[]): Map<string, TrailLine[]> {
  const lines = sql`SELECT ${LINE} FROM json_each(${JSON.stringify(subjectIds)}) j
    CROSS JOIN audit_line a ON a.subject_id = ${packedIdSql("j.value")}
      CROSS JOIN audit_kind k ON k.id = a.kind LEFT JOIN audit_model m ON m.id = a.model
    ORDER BY j.key, a.sequence`.all(db, lineOf);
  return Map.groupBy(lines, (line) => line.subjectId);
}

/** The acts that put a kept result aside; of those the partial index `audit_line_amendment` has the lines. */
const REPLACING = sql`a.amends = 1
  AND k.act IN ('rows.changeObjective', 'rows.convert', 'rows.undo', 'rows.redo')`;

/** Lines of acts that replaced or took away results of rows, by number above `after`. */
export function replacingLines(db: ReadableDb, after: number, count: number): TrailLine[] {
  return sql`SELECT ${LINE} FROM ${LINES} WHERE ${REPLACING} AND a.sequence > ${after}
    ORDER BY a.sequence LIMIT ${count}`.all(db, lineOf);
}

/**
 * The amendments of one sheet, oldest first: of its rows, the re-evaluations that converted results of it, and flags
 * that followed a check withdrawn. The acts
 * of rows named here are those of the partial index
 * `audit_line_amendment`, which keeps this quick on a long sheet with few amendments.
 */
export function amendmentsOfSheet(db: ReadableDb, sheetId: string): TrailLine[] {
  return sql`SELECT ${LINE} FROM specimen_row r
      CROSS JOIN audit_line a INDEXED BY audit_line_amendment
        ON a.amends = 1 AND a.subject_id = ${packedIdSql("r.id")}
      CROSS JOIN audit_kind k ON k.id = a.kind LEFT JOIN audit_model m ON m.id = a.model
    WHERE r.sheet_id = ${sheetId}
    UNION ALL
    SELECT ${LINE} FROM ${LINES} WHERE a.subject_id = ${packId(sheetId)}
      AND k.act IN ('sheets.reevaluated', 'sheets.flagsFollowed', 'records.correct')
    ORDER BY 1`.all(db, (row) => TrailLine.parse(lineOf(row)));
}
