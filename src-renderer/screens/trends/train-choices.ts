import type { BenchOverview } from "#core/contract/records/bench.ts";
import { trainName } from "#core/optics/train-name.ts";
import { isEnded } from "#core/optics/turret.ts";
import type { Choice } from "../../parts/form/SelectField.tsx";

/** Every train of the bench by its name, in the order of the turrets. */
export function trainChoices(overview: BenchOverview): Choice[] {
  return overview.microscopes.flatMap(({ microscope, trains }) =>
    trains.map(({ train }) => ({ value: train.id, words: trainName(train, microscope) })),
  );
}

/** The train to begin with: the first in use that has a factor, else the first there is. */
export function firstTrain(overview: BenchOverview): string | null {
  const trains = overview.microscopes.flatMap((one) => one.trains);
  const inUse = overview.microscopes.flatMap(({ microscope, trains: every }) =>
    every.filter(({ train }) => !isEnded(train, microscope)),
  );
  const first = inUse.find(({ inForce }) => inForce !== null) ?? inUse[0] ?? trains[0];
  return first?.train.id ?? null;
}
