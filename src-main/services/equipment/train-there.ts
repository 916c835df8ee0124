import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { requireNotLent } from "./lent-eyepiece.ts";
import { requireOnTurret } from "./replaced-objective.ts";

/**
 * Nothing new is read with a train whose objective left the turret or whose eyepiece is lent.
 * @throws Refusal `item.out-of-service`
 */
export function requireTrainThere(
  db: ReadableDb,
  { objectiveId, eyepieceId }: Pick<OpticalTrain, "objectiveId" | "eyepieceId">,
  today: string,
  field: string,
): void {
  requireOnTurret(db, { objectiveId }, today, field);
  requireNotLent(db, eyepieceId, today, field);
}
