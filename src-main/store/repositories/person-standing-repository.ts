import { PersonStanding } from "#core/contract/records/person-standing.ts";
import { all, insert, one, type ReadableDb, type WritableDb } from "../connection.ts";

const COLUMNS = `person_id AS "personId", standing, reason, at, by`;

/** Every change of standing there has been, oldest first. */
export function listStandings(db: ReadableDb): PersonStanding[] {
  return all(db, `SELECT ${COLUMNS} FROM person_standing ORDER BY id`).map((row) =>
    PersonStanding.parse(row),
  );
}

/** The last change of standing of a person; null for somebody who was never set aside. */
export function standingOf(db: ReadableDb, personId: string): PersonStanding | null {
  const row = one(
    db,
    `SELECT ${COLUMNS} FROM person_standing WHERE person_id = ? ORDER BY id DESC LIMIT 1`,
    personId,
  );
  return row ? PersonStanding.parse(row) : null;
}

export function insertStanding(db: WritableDb, { personId, standing, reason, at, by }: PersonStanding): void {
  insert(db, "person_standing", { person_id: personId, standing, reason, at, by });
}
