import type { LabelHistory } from "../contract/records/sheet-columns.ts";
import { type Decimal, decimal } from "../quantity/decimal.ts";

/** Fewer sizes than this say nothing about 2.5 % tails. Common practice, no source. */
export const LEAST_HISTORY = 20;
/** From so many on their median is known well enough to tell one objective from another. Our own rule. */
export const LEAST_USUAL = 5;

/** The middle 95 % of what a label measured elsewhere, µm. */
export interface SizeHistory {
  readonly n: number;
  readonly low: Decimal;
  readonly median: Decimal;
  readonly high: Decimal;
}

/** A label without its running number, by which its history is kept: `Tilia 12` → `Tilia`. Empty: no history. */
export function labelStem(label: string): string {
  return label
    .trim()
    .replace(/[0-9]+$/, "")
    .replace(/[ #._-]+$/, "");
}

/** The history as a flag needs it; null when too little is known even of the median. */
export function sizeHistoryOf(record: LabelHistory | null | undefined): SizeHistory | null {
  if (!record || record.n < LEAST_USUAL) return null;
  const { n, low, median, high } = record;
  return { n, low: decimal(low), median: decimal(median), high: decimal(high) };
}

export function isOutsideHistory(size: Decimal | null, history: SizeHistory | null): boolean {
  if (size === null || history === null || history.n < LEAST_HISTORY) return false;
  return size.lessThan(history.low) || size.greaterThan(history.high);
}

/** Bins per factor e: each is about 2 % wide. */
const BINS_PER_E = 50;

/** The bin of a size in a history, by its logarithm; null for a size that is not greater than zero. */
export function sizeBin(size: Decimal): number | null {
  return size.greaterThan(0) ? Math.floor(Math.log(size.toNumber()) * BINS_PER_E) : null;
}

function edgeOfBin(bin: number): string {
  return decimal(Math.exp(bin / BINS_PER_E).toPrecision(6)).toFixed();
}

/** How many sizes fell into a bin. */
export interface BinCount {
  readonly bin: number;
  readonly n: number;
}

function binAtRank(bins: readonly BinCount[], rank: number): number {
  let below = 0;
  for (const { bin, n } of bins) {
    below += n;
    if (below >= rank) return bin;
  }
  return bins.at(-1)?.bin ?? 0;
}

/**
 * Range and 2.5th, 50th and 97.5th percentile of binned sizes as µm texts: the outer edges of the bins they fall in,
 * the middle of the median's. Percentile by rank ⌈n·p⌉ (Hyndman and Fan 1996, type 1).
 * @param bins in rising order, at least one with n > 0
 */
export function bandOfBins(bins: readonly BinCount[]): {
  n: number;
  least: string;
  low: string;
  median: string;
  high: string;
  greatest: string;
} {
  const n = bins.reduce((sum, one) => sum + one.n, 0);
  const at = (share: number) => binAtRank(bins, Math.max(1, Math.ceil(n * share)));
  return {
    n,
    least: edgeOfBin(at(0)),
    low: edgeOfBin(at(0.025)),
    median: edgeOfBin(at(0.5) + 0.5),
    high: edgeOfBin(at(0.975) + 1),
    greatest: edgeOfBin(at(1) + 1),
  };
}
