import { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

const COLUMNS = sql`id, microscope_id AS "microscopeId", eyepiece_id AS "eyepieceId",
  reticle_id AS "reticleId",
  objective_id AS "objectiveId", intermediate_magnification AS "intermediateMagnification",
  nominal_factor AS "nominalFactor"`;

export function findTrain(db: ReadableDb, id: string): OpticalTrain | null {
  return sql`SELECT ${COLUMNS} FROM optical_train WHERE id = ${id}`.one(db, OpticalTrain);
}

/** The train that these parts make; null when the bench has no such combination. */
export function findTrainOf(
  db: ReadableDb,
  parts: Pick<OpticalTrain, "eyepieceId" | "objectiveId" | "intermediateMagnification">,
): OpticalTrain | null {
  return sql`SELECT ${COLUMNS} FROM optical_train
    WHERE eyepiece_id = ${parts.eyepieceId} AND objective_id = ${parts.objectiveId}
    AND intermediate_magnification = ${parts.intermediateMagnification}`.one(db, OpticalTrain);
}

export function trainsOfMicroscope(db: ReadableDb, microscopeId: string): OpticalTrain[] {
  return sql`SELECT ${COLUMNS} FROM optical_train
    WHERE microscope_id = ${microscopeId} ORDER BY rowid`.all(db, OpticalTrain);
}

export function insertTrain(db: WritableDb, train: OpticalTrain): void {
  insert(db, "optical_train", {
    id: train.id,
    microscope_id: train.microscopeId,
    eyepiece_id: train.eyepieceId,
    reticle_id: train.reticleId,
    objective_id: train.objectiveId,
    intermediate_magnification: train.intermediateMagnification,
    nominal_factor: train.nominalFactor,
  });
}
