import type { TrainStatus } from "../contract/records/bench.ts";
import type { LabelHistory } from "../contract/records/sheet-columns.ts";
import type { FlagSurroundings } from "./measurement-flags.ts";
import { sizeHistoryOf } from "./size-history.ts";

/** A train of the microscope with its calibration in force. */
export type TrainInForce = Pick<TrainStatus, "train" | "inForce">;

/** What window and service know of a measurement before it is flagged, each from its own place. */
export interface KnownOfMeasurement
  extends Pick<
    FlagSurroundings,
    | "definition"
    | "microscope"
    | "train"
    | "calibration"
    | "certificateDueOn"
    | "personId"
    | "inParts"
    | "today"
    | "sheet"
  > {
  /** `usable` where nothing but due dates could stand in the way. */
  readonly trainState: TrainStatus["state"] | "usable";
  /** Sizes of the label's other sheets. */
  readonly history: LabelHistory | undefined;
  /** The trains of the microscope with their factors in force; asked for only when a flag needs them. */
  readonly trains: () => readonly TrainInForce[];
}

/** States of a train in which it is to be checked before it is used. */
const UNFIT: ReadonlySet<KnownOfMeasurement["trainState"]> = new Set(["check before use", "out of service"]);

/** What stands around the flags of a measurement: the same conclusions in the window and in the service. */
export function flagSurroundings({
  trainState,
  history,
  trains,
  ...known
}: KnownOfMeasurement): FlagSurroundings {
  return {
    ...known,
    checkBeforeUse: UNFIT.has(trainState),
    history: sizeHistoryOf(history),
    trainFactors: () =>
      trains().flatMap(({ train, inForce }) => (inForce?.result ? [{ train, factor: inForce.result }] : [])),
  };
}
