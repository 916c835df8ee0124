import type { TrainStatus } from "#core/contract/records/bench.ts";
import type { TrendVerdict } from "#core/contract/records/trend.ts";
import type { MarkState } from "../../parts/StateMark.tsx";
import { MARK_OF_VERDICT } from "../trends/trend-marks.ts";
import { MARK_OF_STATE } from "./jobs.ts";

/** What a card says of its train: one verdict, and the rest without a verdict of its own. */
export interface CardVerdict {
  readonly words: string;
  readonly mark: MarkState;
  readonly why: string;
  /** What the lighter of state and trend has to add; empty: nothing. */
  readonly also: string;
}

type Word = TrainStatus["state"] | TrendVerdict["kind"];

/** Heaviest first: what can make a result wrong before what is due, and that before what is only worth knowing. */
const BY_WEIGHT: readonly Word[] = [
  "out of service",
  "check before use",
  "jumped",
  "certificate overdue",
  "calibration overdue",
  "not calibrated",
  "not confirmed",
  "drifting",
  "due soon",
  "ready",
  "small change",
  "steady",
  "too few points",
  "overdue",
];

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** The heavier of a train's state and of its trend is the verdict; the other one is added in words. */
export function cardVerdict(
  { state, why }: Pick<TrainStatus, "state" | "why">,
  trend: TrendVerdict | null,
): CardVerdict {
  const ofState = { words: state, mark: MARK_OF_STATE[state], why };
  // The state says already that a date has passed, or that there is no calibration.
  if (!trend || trend.kind === "overdue" || trend.kind === "not calibrated") {
    return { ...ofState, also: "" };
  }
  if (BY_WEIGHT.indexOf(state) <= BY_WEIGHT.indexOf(trend.kind)) {
    return { ...ofState, also: `${capital(trend.kind)}: ${trend.why}` };
  }
  return {
    words: trend.kind,
    mark: MARK_OF_VERDICT[trend.kind],
    why: trend.why,
    also: why,
  };
}
