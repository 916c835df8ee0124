import { TrailLine } from "#core/contract/records/trail.ts";
import type { ReadableDb } from "../connection.ts";
import { named, type Query, sql } from "../sql.ts";
import { packedIdSql } from "../trail-packing.ts";
import { LINE, LINES, lineOf } from "./trail-lines.ts";

const MOST_LINES = 500;

const trainsWith = (column: string, id: string): Query =>
  sql`SELECT id FROM optical_train WHERE ${named(column)} = ${id}`;
const ofTrains = (trains: Query): Query => sql`
  UNION SELECT id FROM calibration WHERE train_id IN (${trains})
  UNION SELECT id FROM calibration_check WHERE train_id IN (${trains})
  UNION SELECT event_id FROM equipment_event_train WHERE train_id IN (${trains})`;
const attached = (kind: string, id: string): Query =>
  sql`UNION SELECT id FROM attachment WHERE subject_kind = ${kind} AND subject_id = ${id}`;

/** The records whose lines tell of an item: itself, its parts, and what was done with it. */
const SUBJECTS = {
  microscope: (id: string) => sql`SELECT ${id} AS id
    UNION SELECT id FROM objective WHERE microscope_id = ${id}
    UNION SELECT id FROM eyepiece WHERE microscope_id = ${id}
    ${ofTrains(trainsWith("microscope_id", id))} ${attached("microscope", id)}`,
  objective: (id: string) => sql`SELECT ${id} AS id UNION SELECT microscope_id FROM objective WHERE id = ${id}
    UNION SELECT id FROM objective WHERE replaced_by = ${id}
    ${ofTrains(trainsWith("objective_id", id))} ${attached("objective", id)}`,
  eyepiece: (id: string) => sql`SELECT ${id} AS id UNION SELECT microscope_id FROM eyepiece WHERE id = ${id}
    ${ofTrains(trainsWith("eyepiece_id", id))} ${attached("eyepiece", id)}`,
  "stage micrometer": (id: string) => sql`SELECT ${id} AS id
    UNION SELECT id FROM certificate WHERE stage_micrometer_id = ${id}
    UNION SELECT id FROM calibration WHERE stage_micrometer_id = ${id} ${attached("stage micrometer", id)}`,
  certificate: (id: string) => sql`SELECT ${id} AS id
    UNION SELECT id FROM calibration WHERE certificate_id = ${id}
    ${attached("certificate", id)}`,
  person: (id: string) => sql`SELECT ${id} AS id`,
} as const;

/** What the trail tells about an item and what belongs to it, newest first, at most 500 lines. */
export function historyOf(db: ReadableDb, kind: keyof typeof SUBJECTS, id: string): TrailLine[] {
  return sql`SELECT ${LINE} FROM ${LINES}
    WHERE a.subject_id IN (SELECT ${packedIdSql("id")} FROM (${SUBJECTS[kind](id)}))
    ORDER BY a.sequence DESC LIMIT ${MOST_LINES}`.all(db, (row) => TrailLine.parse(lineOf(row)));
}
