import { detect } from "#core/calibration/detective.ts";
import type { FactorRecord } from "#core/contract/records/calibration.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import { objectivesOnTurret } from "#core/optics/turret.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { Refusal } from "../../dispatch/refusals.ts";

const CHECK = "Check which objective is in the path, the lines read on the micrometer and their spacing.";

function objectiveName(objective: Microscope["objectives"][number]): string {
  return `${objective.magnification}×${objective.numericalAperture ? `/${objective.numericalAperture}` : ""}`;
}

/**
 * Holds a factor against what is engraved on its train.
 * @throws Refusal `calibration.implausible` with the likely cause, where the ratio tells one
 */
export function requirePlausible(result: FactorRecord, train: OpticalTrain, microscope: Microscope): void {
  const own = microscope.objectives.find((one) => one.id === train.objectiveId);
  const turret = objectivesOnTurret(microscope.objectives).map((one) => ({
    name: objectiveName(one),
    magnification: decimal(one.magnification),
  }));
  const nominal = decimal(train.nominalFactor);
  const magnification = own ? decimal(own.magnification) : null;
  const { plausible, ratio, suspects } = detect(decimal(result.factor), nominal, magnification, turret);
  if (plausible) return;
  const [suspect] = suspects;
  throw new Refusal(
    "calibration.implausible",
    `The factor comes out at ${result.shownFactor} µm/div, ${ratio.toPrecision(3)} times the ${nominal.toPrecision(4)} µm/div that the engravings lead one to expect.`,
    {
      field: "settings",
      hint: suspect ? `Likely cause: ${suspect.cause}. ${suspect.whatToDo}` : CHECK,
    },
  );
}
