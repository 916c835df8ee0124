import type { BenchOverview } from "#core/contract/records/bench.ts";
import { DEFAULT_READING_CONDITIONS } from "#core/measurement/default-reading-conditions.ts";
import {
  measuringPlan,
  type PlannedMeasurement,
  type PlannedTrain,
} from "#core/measurement/measuring-plan.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { objectiveWords, trainWords } from "../../../parts/bench-words/train-words.ts";

/** Every train of the bench that has a factor in force, named so that no two are alike. */
export function calibratedTrains({ microscopes }: BenchOverview): PlannedTrain[] {
  return microscopes.flatMap(({ microscope, trains }) =>
    trains.flatMap(({ train, inForce }): PlannedTrain[] => {
      const objective = microscope.objectives.find((one) => one.id === train.objectiveId);
      const eyepiece = microscope.eyepieces.find((one) => one.id === train.eyepieceId);
      const factor = inForce?.result;
      if (!objective || !eyepiece || !factor) return [];
      const stand = microscopes.length > 1 ? microscope.name : "";
      return [
        {
          id: train.id,
          name: [objectiveWords(objective), stand, trainWords(microscope, train)].filter(Boolean).join(", "),
          factor: decimal(factor.factor),
          relativeUncertainty: decimal(factor.standardUncertainty).div(factor.factor),
          numericalAperture: objective.numericalAperture ? decimal(objective.numericalAperture) : null,
          reticleDivisions: eyepiece.reticle.divisions,
        },
      ];
    }),
  );
}

/** What an object is known by: its size, or how far it reaches on one train. */
export interface PlannedObject {
  readonly amount: Decimal;
  /** The train its divisions were read on; null: `amount` is µm. */
  readonly train: PlannedTrain | null;
  /** Wanted U of one size, % at k = 2. */
  readonly wantedPercent: Decimal;
}

/** The size of the object, µm. */
export function sizeOf({ amount, train }: PlannedObject): Decimal {
  return train === null ? amount : amount.times(train.factor);
}

/**
 * The object on each calibrated train, the one to use first, as `measuringPlan` orders them; read to the default fraction
 * with the default scatter.
 * @throws InputError as `measuringPlan`
 */
export function planOf(object: PlannedObject, trains: readonly PlannedTrain[]): PlannedMeasurement[] {
  return measuringPlan({
    size: sizeOf(object),
    wantedPercent: object.wantedPercent,
    smallestFraction: decimal(DEFAULT_READING_CONDITIONS.smallestFraction.value),
    repeatability: decimal(DEFAULT_READING_CONDITIONS.repeatability.value),
    trains,
  });
}
