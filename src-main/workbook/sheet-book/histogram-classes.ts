import { decimal } from "#core/quantity/decimal.ts";
import { roundWidth } from "#core/statistics/round-width.ts";

/** One class [from, to): a value on a limit belongs to the class above it. */
export interface HistogramBar {
  readonly from: number;
  readonly to: number;
  readonly count: number;
}

/** More bars than this say nothing more on a page. */
const MOST_BARS = 40;
/** Values are compared at this many places, so that the last binary digit never decides a class. */
export const HISTOGRAM_PLACES = 9;

function rounded(value: number): number {
  const scale = 10 ** HISTOGRAM_PLACES;
  return Math.round(value * scale) / scale;
}

/**
 * Classes for a picture: their number by Sturges 1926 (J. American Statistical Association 21:65), their width rounded
 * to 1, 2 or 5 times a power of ten (common practice, no source). Empty for fewer than two different values.
 */
export function histogramOf(values: readonly number[]): HistogramBar[] {
  const least = values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const most = values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  if (values.length < 2 || !(most > least)) return [];
  const wanted = Math.ceil(Math.log2(values.length) + 1);
  const width = roundWidth(decimal(most - least).div(Math.min(wanted, MOST_BARS / 2)));
  const first = decimal(least).div(width).floor();
  const limits = [first.times(width)];
  for (let at = 1; (limits.at(-1)?.toNumber() ?? most) <= most && at <= MOST_BARS; at += 1) {
    limits.push(first.plus(at).times(width));
  }
  const edges = limits.map((limit) => limit.toNumber());
  const counts = new Array<number>(edges.length - 1).fill(0);
  for (const value of values) {
    const at = edges.findLastIndex((edge) => rounded(value) >= edge);
    const inside = Math.min(Math.max(at, 0), counts.length - 1);
    counts[inside] = (counts[inside] ?? 0) + 1;
  }
  return counts.map((count, at) => ({ from: edges[at] ?? 0, to: edges[at + 1] ?? 0, count }));
}
