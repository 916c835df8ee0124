import type { BenchOverview } from "#core/contract/records/bench.ts";
import { DEFAULT_READING_CONDITIONS } from "#core/measurement/default-reading-conditions.ts";
import {
  measuringPlan,
  type PlannedMeasurement,
  type PlannedTrain,
} from "#core/measurement/measuring-plan.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { benchTrains } from "../work-out/bench-trains.ts";

/** Every train of the bench that has a factor in force, as a plan needs it. */
export function calibratedTrains(overview: BenchOverview): PlannedTrain[] {
  return benchTrains(overview).map(({ id, name, factor, numericalAperture, divisions }) => ({
    id,
    name,
    factor: decimal(factor.factor),
    relativeUncertainty: decimal(factor.standardUncertainty).div(factor.factor),
    numericalAperture: numericalAperture === null ? null : decimal(numericalAperture),
    reticleDivisions: divisions,
  }));
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
