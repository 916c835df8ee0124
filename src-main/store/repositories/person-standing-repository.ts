import { PersonStanding } from "#core/contract/records/person-standing.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

const COLUMNS = sql`person_id AS "personId", standing, reason, at, by`;

/** Every change of standing there has been, oldest first. */
export function listStandings(db: ReadableDb): PersonStanding[] {
  return sql`SELECT ${COLUMNS} FROM person_standing ORDER BY id`.all(db, PersonStanding);
}

/** The last change of standing of a person; null for somebody who was never set aside. */
export function standingOf(db: ReadableDb, personId: string): PersonStanding | null {
  return sql`SELECT ${COLUMNS} FROM person_standing WHERE person_id = ${personId}
    ORDER BY id DESC LIMIT 1`.one(db, PersonStanding);
}

export function insertStanding(db: WritableDb, { personId, standing, reason, at, by }: PersonStanding): void {
  insert(db, "person_standing", { person_id: personId, standing, reason, at, by });
}
