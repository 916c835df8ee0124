import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { type DecimalText, textOfDecimal } from "#core/quantity/decimal-text.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findMicroscope } from "../../store/repositories/microscope-repository.ts";
import { findTrain, findTrainOf } from "../../store/repositories/train-repository.ts";
import { requireInService } from "./service-states.ts";

/** The parts of a train as a person chooses them. */
export interface TrainParts {
  readonly microscopeId: string;
  readonly eyepieceId: string;
  readonly objectiveId: string;
  readonly intermediateMagnification: DecimalText;
}

/** @throws Refusal `microscope.unknown` */
export function requireMicroscope(db: ReadableDb, id: string, field: string): Microscope {
  const microscope = findMicroscope(db, id);
  if (microscope) return microscope;
  throw new Refusal("microscope.unknown", "That microscope is not registered on this bench.", {
    field,
    hint: "Register the microscope first.",
  });
}

/** @throws Refusal `objective.unknown` */
export function requireObjective(microscope: Microscope, objectiveId: string, field: string): void {
  if (microscope.objectives.some((one) => one.id === objectiveId)) return;
  throw new Refusal("objective.unknown", `That objective is not on the turret of ${microscope.name}.`, {
    field,
    hint: "Choose one of its turret positions, or add the objective to the microscope first.",
  });
}

/** @throws Refusal `item.out-of-service` for the first part that is not to be used on this day */
export function requirePartsInService(
  db: ReadableDb,
  parts: Omit<TrainParts, "intermediateMagnification">,
  today: string,
  path: string,
): void {
  requireInService(db, { kind: "microscope", id: parts.microscopeId }, today, `${path}microscopeId`);
  requireInService(db, { kind: "eyepiece", id: parts.eyepieceId }, today, `${path}eyepieceId`);
  requireInService(db, { kind: "objective", id: parts.objectiveId }, today, `${path}objectiveId`);
}

/** @throws Refusal `train.unknown` */
export function requireTrainById(db: ReadableDb, id: string, field: string): OpticalTrain {
  const train = findTrain(db, id);
  if (train) return train;
  throw new Refusal("train.unknown", "That optical train is not on this bench.", { field });
}

/**
 * The train of the parts chosen.
 * @param today the day on which every part must be in service; null for readings made earlier, which come in as they are
 * @param path what stands before the names of the parts in the fields of refusals: `sheet.`
 * @throws Refusal `microscope.unknown`, `eyepiece.unknown`, `objective.unknown`, `train.unknown`, `item.out-of-service`
 */
export function requireTrain(
  db: ReadableDb,
  parts: TrainParts,
  today: string | null,
  path: string,
): OpticalTrain {
  const { microscopeId, eyepieceId, objectiveId } = parts;
  const microscope = requireMicroscope(db, microscopeId, `${path}microscopeId`);
  if (!microscope.eyepieces.some((one) => one.id === eyepieceId)) {
    throw new Refusal("eyepiece.unknown", `That eyepiece does not belong to ${microscope.name}.`, {
      field: `${path}eyepieceId`,
    });
  }
  requireObjective(microscope, objectiveId, `${path}objectiveId`);
  const step = textOfDecimal(decimal(parts.intermediateMagnification));
  const train = findTrainOf(db, { eyepieceId, objectiveId, intermediateMagnification: step });
  if (!train) {
    throw new Refusal("train.unknown", `${microscope.name} has no intermediate magnification ${step}×.`, {
      field: `${path}intermediateMagnification`,
      hint: `It has ${microscope.intermediateMagnifications.join("×, ")}×.`,
    });
  }
  if (today !== null) requirePartsInService(db, parts, today, path);
  return train;
}
