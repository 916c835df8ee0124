import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Measurement } from "#core/contract/records/sheet.ts";
import { flagsOf } from "#core/measurement/flags.ts";
import { divisionsOfEdges, previewSize } from "#core/measurement/typed-reading.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { readDecimal, textOfDecimal } from "#core/quantity/decimal-text.ts";
import { trainName } from "./train-name.ts";

/** What follows from two readings; the same whether they are entered, corrected or verified. */
export type Converted = Pick<Measurement, "divisions" | "size">;

/** Divisions and size from the typed readings and the factor of the calibration, when there is one. */
export function convertReadings(
  left: string,
  right: string,
  definition: Method["definition"],
  calibration: CalibrationRecord | null,
): Converted {
  const factor = calibration?.result;
  if (!factor) return { divisions: textOfDecimal(divisionsOfEdges(left, right)), size: null };
  const { divisions, size } = previewSize({ left, right, factor, definition });
  return { divisions: textOfDecimal(divisions), size };
}

/** Why readings stay divisions, and what to do about it. */
export function whyNoSize(train: OpticalTrain, microscope: Microscope): string {
  return `No calibration in force for ${trainName(train, microscope)}: calibrate it, then enter one of the two readings again.`;
}

export interface Surroundings {
  readonly method: Method;
  readonly microscope: Microscope;
  readonly train: OpticalTrain;
  readonly calibration: CalibrationRecord | null;
  readonly certificateDueOn: string | null;
  readonly personId: string;
  readonly today: string;
}

/** The flags of two readings as they stand today. */
export function flagReadings(
  left: string,
  right: string,
  size: Measurement["size"],
  around: Surroundings,
): Measurement["flags"] {
  const { method, microscope, train, calibration, certificateDueOn, personId, today } = around;
  const eyepiece = microscope.eyepieces.find((one) => one.id === train.eyepieceId);
  const objective = microscope.objectives.find((one) => one.id === train.objectiveId);
  if (!eyepiece || !objective) throw new Error(`a part of train ${train.id} is missing`);
  const least = method.definition.minimumDivisions.trim();
  return flagsOf({
    left: readDecimal("left", left).value,
    right: readDecimal("right", right).value,
    reticleDivisions: eyepiece.reticle.divisions,
    minimumDivisions: least === "" ? null : readDecimal("minimumDivisions", least).value,
    wanted: null,
    size: size ? decimal(size.value) : null,
    numericalAperture: objective.numericalAperture ? decimal(objective.numericalAperture) : null,
    today,
    calibrationDueOn: calibration?.dueOn ?? null,
    certificateDueOn,
    headCompensated: microscope.headCompensated,
    personId,
    calibratedBy: calibration?.personId ?? null,
  });
}
