import { trainName } from "#core/optics/train-name.ts";
import { useCall } from "../../bridge/use-call.ts";

/** From a train's id to words: `40×/0.65 on Stand A`; the id itself while the bench is being read. */
export function useTrainName(): (trainId: string) => string {
  const { data } = useCall("bench.overview", {});
  return (trainId) => {
    for (const { microscope, trains } of data?.microscopes ?? []) {
      const train = trains.find((one) => one.train.id === trainId)?.train;
      if (train) return trainName(train, microscope);
    }
    return trainId;
  };
}
