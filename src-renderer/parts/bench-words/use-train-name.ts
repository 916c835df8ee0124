import { useCall } from "../../bridge/use-call.ts";
import { objectiveWords, trainWords } from "./train-words.ts";

/** From a train's id to words: `40×/0.65 on Stand A`; the id itself while the bench is being read. */
export function useTrainName(): (trainId: string) => string {
  const { data } = useCall("bench.overview", {});
  return (trainId) => {
    for (const { microscope, trains } of data?.microscopes ?? []) {
      const train = trains.find((one) => one.train.id === trainId)?.train;
      const objective = microscope.objectives.find((one) => one.id === train?.objectiveId);
      if (!train || !objective) continue;
      const extra = trainWords(microscope, train);
      return `${objectiveWords(objective)} on ${microscope.name}${extra ? ` (${extra})` : ""}`;
    }
    return trainId;
  };
}
