import type { BenchOverview } from "#core/contract/records/bench.ts";
import { objectiveWords, trainWords } from "#core/optics/train-name.ts";
import type { BenchTrain } from "./calculator.ts";

/** Every train of the bench that has a factor in force, named so that no two are alike. */
export function benchTrains({ microscopes }: BenchOverview): BenchTrain[] {
  return microscopes.flatMap(({ microscope, trains }) =>
    trains.flatMap(({ train, inForce }): BenchTrain[] => {
      const objective = microscope.objectives.find((one) => one.id === train.objectiveId);
      const eyepiece = microscope.eyepieces.find((one) => one.id === train.eyepieceId);
      const factor = inForce?.result;
      if (!objective || objective.replaced || !eyepiece || !factor) return [];
      const stand = microscopes.length > 1 ? microscope.name : "";
      return [
        {
          id: train.id,
          name: [objectiveWords(objective), stand, trainWords(microscope, train)].filter(Boolean).join(", "),
          factor,
          magnification: objective.magnification,
          numericalAperture: objective.numericalAperture,
          intermediate: train.intermediateMagnification,
          fieldNumber: eyepiece.fieldNumber ?? "",
          scaleLengthMm: eyepiece.reticle.scaleLengthMm,
          divisions: eyepiece.reticle.divisions,
        },
      ];
    }),
  );
}
