import { scaleLinear } from "d3-scale";
import type { SeriesTrend } from "../contract/records/trend.ts";
import type { Mark } from "./mark.ts";
import { dateTicks } from "./trend-layout.ts";
import { dayOf } from "./trend-model.ts";
import { shapePath } from "./trend-paths.ts";

/** Size of one history among others, px. */
export const SMALL_TREND = { width: 460, height: 162 } as const;

const { width: WIDTH, height: HEIGHT } = SMALL_TREND;
const LEFT = 62;
const RIGHT = 14;
const TOP = 22;
const BOTTOM = 28;
/** More dates would run into each other. */
const MOST_DATES = 4;

/** Days and per cent that all histories side by side share, so that they can be compared by eye. */
export interface CommonSpans {
  readonly days: readonly [number, number];
  readonly percent: readonly [number, number];
}

/** Days and per cent that hold all series, with a little air. */
export function commonSpans(all: readonly SeriesTrend[]): CommonSpans {
  let [first, last] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let most = 0.05;
  for (const { points } of all) {
    for (const { date, percent, percentUncertainty } of points) {
      first = Math.min(first, dayOf(date));
      last = Math.max(last, dayOf(date));
      most = Math.max(most, Math.abs(Number(percent)) + Number(percentUncertainty));
    }
  }
  if (first > last) return { days: [0, 1], percent: [-1, 1] };
  const air = Math.max(5, (last - first) * 0.04);
  return { days: [first - air, last + air], percent: [-most * 1.08, most * 1.08] };
}

const withSign = (value: number, places: number): string =>
  `${value > 0 ? "+" : value < 0 ? "−" : ""}${Math.abs(value).toFixed(places)} %`;

/** What one history says, for those who do not see it; `line`: what the line at 0 is. */
export function smallTrendWords({ points }: SeriesTrend, line: string): string {
  const values = points.map(({ date, percent }) => `${date}: ${withSign(Number(percent), 2)}`);
  return `The line at 0 is ${line}. ${values.join(". ")}`;
}

/** One history among others: change from the line, on axes that all share. */
export function smallTrendMarks(series: SeriesTrend, { days, percent }: CommonSpans, line: string): Mark[] {
  const x = scaleLinear(days, [LEFT, WIDTH - RIGHT]);
  const y = scaleLinear(percent, [HEIGHT - BOTTOM, TOP]);
  const ticks = y.ticks(3);
  const places = Math.max(0, Math.ceil(-Math.log10(Math.abs((ticks[1] ?? 1) - (ticks[0] ?? 0))) - 1e-9));
  const place = series.points.map((point) => ({
    px: x(dayOf(point.date)),
    py: y(Number(point.percent)),
    half: Math.abs(y(Number(point.percentUncertainty)) - y(0)),
  }));
  const dates = dateTicks(days[0], days[1], MOST_DATES);
  const text = (words: string, at: { x: number; y: number }, more: object): Mark => ({
    look: "axisText",
    words,
    anchor: "end",
    ...at,
    ...more,
  });
  return [
    { look: "grid", d: ticks.map((tick) => `M${LEFT} ${y(tick).toFixed(1)}H${WIDTH - RIGHT}`).join("") },
    { look: "axis", d: `M${LEFT} ${TOP}V${HEIGHT - BOTTOM}H${WIDTH - RIGHT}` },
    { look: "centre", d: `M${LEFT} ${y(0)}H${WIDTH - RIGHT}` },
    text(`0 %: ${line}`, { x: WIDTH - RIGHT, y: TOP - 9 }, {}),
    ...ticks.map((tick) => text(withSign(tick, places), { x: LEFT - 6, y: y(tick) }, { centred: true })),
    { look: "axis", d: dates.map(({ day }) => `M${x(day).toFixed(1)} ${HEIGHT - BOTTOM}v5`).join("") },
    ...dates.map(({ day, words }) => text(words, { x: x(day), y: HEIGHT - 6 }, { anchor: "middle" })),
    {
      look: "bars",
      d: place
        .map(({ px, py, half }) => `M${px.toFixed(1)} ${(py - half).toFixed(1)}v${(2 * half).toFixed(1)}`)
        .join(""),
    },
    { look: "filled", d: place.map(({ px, py }) => shapePath(0, px, py, 4)).join("") },
  ];
}
