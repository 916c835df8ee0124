import { scaleLinear, scaleUtc } from "d3-scale";
import { trueMinus } from "../quantity/printed-number.ts";
import { dateOfDay } from "../trends/civil-day.ts";
import type { TrendModel } from "./trend-model.ts";
import { type Place, valueSpan } from "./trend-paths.ts";
import { visibleRange } from "./trend-span.ts";

const MS_PER_DAY = 86_400_000;

export const PLOT = { height: 400, left: 78, right: 104, top: 26, above: 12, bottom: 56 } as const;
/** Where the axis of dates lies. */
export const PLOT_BOTTOM = PLOT.height - PLOT.bottom;

/** Room at the foot of the plot for who calibrated. */
const FOOT = 22;

export interface TrendLayout {
  readonly width: number;
  readonly x: Place;
  readonly y: Place;
  readonly range: readonly [number, number];
  readonly span: readonly [number, number];
  readonly xTicks: readonly DateTick[];
  readonly yTicks: readonly { readonly value: number; readonly words: string }[];
}

export interface DateTick {
  readonly day: number;
  readonly words: string;
}

/** Dates along an axis as ISO 8601, as short as they allow and at most `most` of them. */
export function dateTicks(from: number, to: number, most: number): readonly DateTick[] {
  const ticks = scaleUtc([from * MS_PER_DAY, to * MS_PER_DAY], [0, 1]).ticks(most);
  const days = ticks.map((tick) => Number(tick) / MS_PER_DAY);
  // The number asked for is a wish to the scale: where it gives more, each second or third is left, a new year among them.
  const each = Math.max(1, Math.ceil(days.length / most));
  const newYear = days.findIndex((day) => dateOfDay(day).endsWith("-01-01"));
  const kept = days.filter((_, at) => at % each === Math.max(0, newYear) % each);
  const gap = (kept[1] ?? to) - (kept[0] ?? from);
  const letters = gap >= 360 ? 4 : gap >= 27 ? 7 : 10;
  return kept.map((day) => ({ day, words: dateOfDay(day).slice(0, letters) }));
}

function valueTicks(span: readonly [number, number], unit: TrendModel["unit"]): TrendLayout["yTicks"] {
  const ticks = scaleLinear(span, [0, 1]).ticks(7);
  const step = Math.abs((ticks[1] ?? 1) - (ticks[0] ?? 0));
  const places = Math.max(0, Math.min(9, Math.ceil(-Math.log10(step) - 1e-9)));
  return ticks.map((value) => {
    const text = value.toFixed(places);
    const sign = unit === "percent" && Number(text) > 0 ? "+" : "";
    return { value, words: trueMinus(`${sign}${Number(text) === 0 ? text.replace("-", "") : text}`) };
  });
}

/** A straight scale; called for every point of thousands, so it does nothing else. */
function straight([a, b]: readonly [number, number], [from, to]: readonly [number, number]): Place {
  const slope = (to - from) / (b - a);
  return (value) => from + (value - a) * slope;
}

/** Everything that depends on the window and the width, but not on the point that is read out. */
export function trendLayout(
  model: TrendModel,
  view: { readonly from: number; readonly to: number },
  width: number,
  withTolerance: boolean,
): TrendLayout {
  const range = visibleRange(model.days, view.from, view.to);
  const span = valueSpan(model, range, view, withTolerance);
  const x = straight([view.from, view.to], [PLOT.left, width - PLOT.right]);
  const y = straight(span, [PLOT_BOTTOM - FOOT, PLOT.top]);
  return {
    width,
    x,
    y,
    range,
    span,
    xTicks: dateTicks(view.from, view.to, Math.max(2, Math.floor((width - PLOT.left - PLOT.right) / 92))),
    yTicks: valueTicks(span, model.unit),
  };
}

/** Whether a line at this value is seen: the plot is cut a little above its highest value. */
export function isOnPlot({ y }: TrendLayout, value: number): boolean {
  const at = y(value);
  return at >= PLOT.top - PLOT.above && at <= PLOT_BOTTOM;
}

export interface EndLabel {
  readonly words: string;
  /** Where it belongs. */
  readonly at: number;
}

/** Moves labels apart so that none covers another: sorted from the top, each at least `least` below the one before. */
export function spreadLabels(
  labels: readonly EndLabel[],
  least: number,
  bottom: number,
): readonly (EndLabel & { readonly y: number })[] {
  const sorted = [...labels].sort((a, b) => a.at - b.at);
  const places: number[] = [];
  for (const { at } of sorted) places.push(Math.max(at, (places.at(-1) ?? Number.NEGATIVE_INFINITY) + least));
  // Pushed beyond the bottom: the same from below.
  for (let at = places.length - 1; at >= 0; at -= 1) {
    const most = at === places.length - 1 ? bottom : (places[at + 1] ?? bottom) - least;
    places[at] = Math.min(places[at] ?? most, most);
  }
  return sorted.map((label, at) => ({ ...label, y: places[at] ?? label.at }));
}
