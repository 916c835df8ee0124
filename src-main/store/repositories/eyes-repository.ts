import { EyesAtTrain } from "#core/contract/records/eyes.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

const COLUMNS = sql`person_id AS "personId", train_id AS "trainId", dioptre, sleeve, glasses, at`;

/** What one person, or everybody when null, last said at each train. */
export function listEyes(db: ReadableDb, personId: string | null): EyesAtTrain[] {
  return sql`SELECT ${COLUMNS} FROM eyes_at_train
    WHERE person_id = coalesce(${personId}, person_id) ORDER BY at, train_id`.all(db, EyesAtTrain);
}

export function eyesAt(db: ReadableDb, personId: string, trainId: string): EyesAtTrain | null {
  return sql`SELECT ${COLUMNS} FROM eyes_at_train
    WHERE person_id = ${personId} AND train_id = ${trainId}`.one(db, EyesAtTrain);
}

export function keepEyes(
  db: WritableDb,
  { personId, trainId, dioptre, sleeve, glasses, at }: EyesAtTrain,
): void {
  insert(db, "eyes_at_train", { person_id: personId, train_id: trainId, dioptre, sleeve, glasses, at }, [
    "person_id",
    "train_id",
  ]);
}
