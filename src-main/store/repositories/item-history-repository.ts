import { TrailLine } from "#core/contract/records/trail.ts";
import { all, type ReadableDb } from "../connection.ts";
import { packedIdSql } from "../trail-packing.ts";
import { LINE, LINES, lineOf } from "./trail-lines.ts";

const MOST_LINES = 500;
const TRAINS_WITH = (column: string): string => `SELECT id FROM optical_train WHERE ${column} = :id`;
const OF_TRAINS = (trains: string): string => `
  UNION SELECT id FROM calibration WHERE train_id IN (${trains})
  UNION SELECT id FROM calibration_check WHERE train_id IN (${trains})
  UNION SELECT event_id FROM equipment_event_train WHERE train_id IN (${trains})`;
const ATTACHED = (kind: string): string =>
  `UNION SELECT id FROM attachment WHERE subject_kind = '${kind}' AND subject_id = :id`;

/** The records whose lines tell of an item: itself, its parts, and what was done with it. */
const SUBJECTS = {
  microscope: `SELECT :id AS id UNION SELECT id FROM objective WHERE microscope_id = :id
    UNION SELECT id FROM eyepiece WHERE microscope_id = :id
    ${OF_TRAINS(TRAINS_WITH("microscope_id"))} ${ATTACHED("microscope")}`,
  objective: `SELECT :id AS id UNION SELECT microscope_id FROM objective WHERE id = :id
    ${OF_TRAINS(TRAINS_WITH("objective_id"))} ${ATTACHED("objective")}`,
  eyepiece: `SELECT :id AS id UNION SELECT microscope_id FROM eyepiece WHERE id = :id
    ${OF_TRAINS(TRAINS_WITH("eyepiece_id"))} ${ATTACHED("eyepiece")}`,
  "stage micrometer": `SELECT :id AS id UNION SELECT id FROM certificate WHERE stage_micrometer_id = :id
    UNION SELECT id FROM calibration WHERE stage_micrometer_id = :id ${ATTACHED("stage micrometer")}`,
  certificate: `SELECT :id AS id UNION SELECT id FROM calibration WHERE certificate_id = :id ${ATTACHED("certificate")}`,
  person: "SELECT :id AS id",
} as const;

/** What the trail tells about an item and what belongs to it, newest first, at most 500 lines. */
export function historyOf(db: ReadableDb, kind: keyof typeof SUBJECTS, id: string): TrailLine[] {
  return all(
    db,
    `SELECT ${LINE} FROM ${LINES}
     WHERE a.subject_id IN (SELECT ${packedIdSql("id")} FROM (${SUBJECTS[kind]}))
     ORDER BY a.sequence DESC LIMIT ${MOST_LINES}`,
    { id },
  ).map((row) => TrailLine.parse(lineOf(row)));
}
