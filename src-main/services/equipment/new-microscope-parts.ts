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

/** An objective as registered. */
export function readObjective(
  ids: Ids,
  microscopeId: string,
  registered: z.output<typeof NewObjective>,
): Objective {
  return { id: ids.next(), microscopeId, ...registered };
}

/** An eyepiece with its reticle, as registered. */
export function readEyepiece(
  ids: Ids,
  microscopeId: string,
  { reticle, ...registered }: z.output<typeof NewEyepiece>,
): Eyepiece {
  return { id: ids.next(), microscopeId, ...registered, reticle: { id: ids.next(), ...reticle } };
}

/** The steps of changer or zoom, `1` first, which is always there; a stand without either has that one. */
export function readIntermediateMagnifications(
  path: string,
  typed: readonly (DecimalText | null)[],
): DecimalText[] {
  const steps: DecimalText[] = [];
  typed.forEach((step, index) => {
    if (step === null) return;
    if (steps.includes(step)) throw new InputError(`${path}.${index}`, "stands there twice");
    steps.push(step);
  });
  const unit = textOfDecimal(decimal(1));
  return [unit, ...steps.filter((step) => step !== unit)];
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
