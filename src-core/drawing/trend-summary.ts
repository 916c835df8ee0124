import type { TrainTrend } from "../contract/records/trend.ts";

/** What the chart of a history shows, in words, for those who do not see it. */
export function trendSummary(trend: TrainTrend): string {
  const [first, last] = [trend.points[0], trend.points.at(-1)];
  if (!first || !last) return "No calibration yet.";
  const rule = trend.baselines.at(-1)?.rule ?? "no limits";
  const fired = trend.points.filter(({ signals }) =>
    signals.some(({ weight }) => weight === "signal"),
  ).length;
  const events = trend.events.length;
  return (
    `${trend.points.length} ${trend.points.length === 1 ? "calibration" : "calibrations"} from ${first.date} to ` +
    `${last.date}, with ${events} ${events === 1 ? "event" : "events"}. ` +
    `${trend.standing.kind}: ${trend.standing.why} Limits: ${rule}. Rules fire at ${fired} of them.`
  );
}
