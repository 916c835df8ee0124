import type { z } from "zod";
import type {
  Eyepiece,
  Microscope,
  NewEyepiece,
  NewObjective,
  Objective,
  OpticalTrain,
} from "#core/contract/records/microscope.ts";
import { nominalFactor } from "#core/optics/nominal-factor.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { type DecimalText, textOfDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import type { Ids } from "../../ports/ids.ts";
import { readCount, readOptionalPositive, readPositive } from "../write-context/typed-input.ts";

/** Beyond every instrument: a larger figure has a slipped decimal mark or another unit. */
const MOST = {
  magnification: 1000,
  numericalAperture: 2,
  eyepieceMagnification: 100,
  fieldNumberMm: 50,
  scaleLengthMm: 100,
  reticleDivisions: 10_000,
  intermediate: 10,
};

export function readObjective(
  ids: Ids,
  microscopeId: string,
  path: string,
  typed: z.output<typeof NewObjective>,
): Objective {
  return {
    id: ids.next(),
    microscopeId,
    position: typed.position,
    magnification: readPositive(`${path}.magnification`, typed.magnification, MOST.magnification),
    numericalAperture: readOptionalPositive(
      `${path}.numericalAperture`,
      typed.numericalAperture,
      MOST.numericalAperture,
    ),
    immersion: typed.immersion,
    serial: typed.serial,
  };
}

export function readEyepiece(
  ids: Ids,
  microscopeId: string,
  path: string,
  typed: z.output<typeof NewEyepiece>,
): Eyepiece {
  const reticle = `${path}.reticle`;
  return {
    id: ids.next(),
    microscopeId,
    name: typed.name,
    magnification: readOptionalPositive(
      `${path}.magnification`,
      typed.magnification,
      MOST.eyepieceMagnification,
    ),
    fieldNumber: readOptionalPositive(`${path}.fieldNumber`, typed.fieldNumber, MOST.fieldNumberMm),
    serial: typed.serial,
    reticle: {
      id: ids.next(),
      engraving: typed.reticle.engraving,
      scaleLengthMm: readPositive(
        `${reticle}.scaleLengthMm`,
        typed.reticle.scaleLengthMm,
        MOST.scaleLengthMm,
      ),
      divisions: readCount(`${reticle}.divisions`, typed.reticle.divisions, MOST.reticleDivisions),
    },
  };
}

/** The changer's steps, `1` first where there is one; a stand without a changer has the one step `1`. */
export function readIntermediateMagnifications(path: string, typed: readonly string[]): DecimalText[] {
  const steps: DecimalText[] = [];
  typed.forEach((one, index) => {
    if (one.trim() === "") return;
    const step = readPositive(`${path}.${index}`, one, MOST.intermediate);
    if (steps.includes(step)) throw new InputError(`${path}.${index}`, "stands there twice");
    steps.push(step);
  });
  const unit = textOfDecimal(decimal(1));
  if (steps.length === 0) return [unit];
  return steps.includes(unit) ? [unit, ...steps.filter((step) => step !== unit)] : steps;
}

/** Every train that these eyepieces and objectives make with the microscope's intermediate magnifications. */
export function trainsOf(
  ids: Ids,
  microscope: Pick<Microscope, "id" | "intermediateMagnifications">,
  eyepieces: readonly Eyepiece[],
  objectives: readonly Objective[],
): OpticalTrain[] {
  return eyepieces.flatMap((eyepiece) =>
    objectives.flatMap((objective) =>
      microscope.intermediateMagnifications.map((intermediateMagnification) => ({
        id: ids.next(),
        microscopeId: microscope.id,
        eyepieceId: eyepiece.id,
        reticleId: eyepiece.reticle.id,
        objectiveId: objective.id,
        intermediateMagnification,
        nominalFactor: textOfDecimal(
          nominalFactor({
            reticleLengthMm: decimal(eyepiece.reticle.scaleLengthMm),
            divisions: eyepiece.reticle.divisions,
            objective: decimal(objective.magnification),
            intermediate: decimal(intermediateMagnification),
          }),
        ),
      })),
    ),
  );
}
