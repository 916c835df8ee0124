import type { TrainTrend } from "../contract/records/trend.ts";
import { countedNoun } from "../quantity/counted-noun.ts";

/** What the chart of a history shows, in words, for those who do not see it. */
export function trendSummary(trend: TrainTrend): string {
  const [first, last] = [trend.points[0], trend.points.at(-1)];
  if (!first || !last) return "No calibration yet.";
  const rule = trend.baselines.at(-1)?.rule ?? "no limits";
  const fired = trend.points.filter(({ signals }) =>
    signals.some(({ weight }) => weight === "signal"),
  ).length;
  return (
    `${countedNoun(trend.points.length, "calibration")} from ${first.date} to ${last.date}, ` +
    `with ${countedNoun(trend.events.length, "event")}. ` +
    `${trend.verdict.kind}: ${trend.verdict.why} Limits: ${rule}. Rules fire at ${fired} of them.`
  );
}
