import type { TrendModel } from "./trend-model.ts";

/** A window on a history is never narrower, days. */
export const LEAST_DAYS = 10;

/** First and last day worth seeing, with a little air. */
export function wholeSpan({ days, today }: Pick<TrendModel, "days" | "today">): readonly [number, number] {
  const first = days[0] ?? today - 365;
  const last = Math.max(days.at(-1) ?? today, today);
  const air = Math.max(LEAST_DAYS / 2, (last - first) * 0.04);
  return [first - air, last + air];
}

/** Places of the first point at or after `from` and the first one after `to`; days rise. */
export function visibleRange(days: Float64Array, from: number, to: number): readonly [number, number] {
  const at = (limit: number, beyond: boolean): number => {
    let [low, high] = [0, days.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      const day = days[middle] ?? 0;
      if (day < limit || (beyond && day === limit)) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  return [at(from, false), at(to, true)];
}
