import { OpticalTrain } from "#core/contract/records/microscope.ts";
import { all, insert, one, type ReadableDb, type WritableDb } from "../connection.ts";

const COLUMNS = `id, microscope_id AS "microscopeId", eyepiece_id AS "eyepieceId", reticle_id AS "reticleId",
  objective_id AS "objectiveId", intermediate_magnification AS "intermediateMagnification",
  nominal_factor AS "nominalFactor"`;

export function findTrain(db: ReadableDb, id: string): OpticalTrain | null {
  const row = one(db, `SELECT ${COLUMNS} FROM optical_train WHERE id = ?`, id);
  return row ? OpticalTrain.parse(row) : null;
}

/** The train that these parts make; null when the bench has no such combination. */
export function findTrainOf(
  db: ReadableDb,
  parts: Pick<OpticalTrain, "eyepieceId" | "objectiveId" | "intermediateMagnification">,
): OpticalTrain | null {
  const row = one(
    db,
    `SELECT ${COLUMNS} FROM optical_train
     WHERE eyepiece_id = ? AND objective_id = ? AND intermediate_magnification = ?`,
    parts.eyepieceId,
    parts.objectiveId,
    parts.intermediateMagnification,
  );
  return row ? OpticalTrain.parse(row) : null;
}

export function trainsOfMicroscope(db: ReadableDb, microscopeId: string): OpticalTrain[] {
  return all(
    db,
    `SELECT ${COLUMNS} FROM optical_train WHERE microscope_id = ? ORDER BY rowid`,
    microscopeId,
  ).map((row) => OpticalTrain.parse(row));
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
