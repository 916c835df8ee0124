import type { BenchOverview } from "#core/contract/records/bench.ts";
import { objectiveWords, trainWords } from "#core/optics/train-name.ts";
import type { Choice } from "../../parts/form/SelectField.tsx";

/** Every train of the bench by its name, in the order of the turrets. */
export function trainChoices(overview: BenchOverview): Choice[] {
  return overview.microscopes.flatMap(({ microscope, trains }) =>
    trains.map(({ train }) => {
      const objective = microscope.objectives.find((one) => one.id === train.objectiveId);
      const extra = trainWords(microscope, train);
      const name = objective ? objectiveWords(objective) : "objective";
      return { value: train.id, words: `${name} on ${microscope.name}${extra ? ` (${extra})` : ""}` };
    }),
  );
}

/** The train to begin with: the first that has a factor, else the first there is. */
export function firstTrain(overview: BenchOverview): string | null {
  const trains = overview.microscopes.flatMap((one) => one.trains);
  return (trains.find(({ inForce }) => inForce !== null) ?? trains[0])?.train.id ?? null;
}
