import type { TrendVerdict } from "#core/contract/records/trend.ts";
import type { MarkState } from "../../parts/StateMark.tsx";

/** The sign beside a standing. */
export const MARK_OF_VERDICT: Readonly<Record<TrendVerdict["kind"], MarkState>> = {
  steady: "good",
  "small change": "none",
  drifting: "warn",
  jumped: "bad",
  "too few points": "none",
  overdue: "bad",
  "not calibrated": "none",
};
