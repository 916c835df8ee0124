import { esdCritical } from "./generalized-esd.ts";

/** Fewer values than this set nothing apart: the largest possible distance of four lies at their own critical value. */
export const LEAST_APART = 5;
/**
 * Risk of one look at a sample in which nothing is wrong. A label is looked at after each of its values, so that the looks
 * add up: at 1 % a look, 6 to 7 % of labels had a value set apart at some time while they grew to 100. At 0.2 %, and less
 * beyond 100 values, it is at most 2 %: `npm run bench -- flag-rates`.
 */
const RISK_OF_A_LOOK = 0.002;
const LOOKS_IN_FULL = 100;
const MOST_SUSPECTS = 10;

/** A sample in order with its moments, in floats: no digit of a size is printed from them. */
export interface OrderedMoments {
  readonly n: number;
  readonly mean: number;
  /** Σ(x − x̄)². */
  readonly squares: number;
  /** The same of the natural logarithms; null when a value is not greater than zero. */
  readonly logs: { readonly mean: number; readonly squares: number } | null;
  /** The k-th smallest and the k-th largest value, from 0. */
  least(k: number): number;
  greatest(k: number): number;
}

/** Which values of a sample lie apart from the rest: those up to `low` and those from `high` on; null: none. */
export interface ApartValues {
  readonly n: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly count: number;
}

/** How many values may be suspected: Grubbs' one at first, up to a tenth of a large sample. */
function suspectsOf(n: number): number {
  if (n < 15) return n < 8 ? 1 : 2;
  return Math.min(MOST_SUSPECTS, Math.max(2, Math.floor(n / 10)));
}

const criticals = new Map<number, number>();

/** λᵢ; of a large sample that of the next larger n of two digits, which is larger: rather one flag too few. */
function critical(n: number, i: number): number {
  const place = n <= 100 ? 1 : 10 ** (Math.floor(Math.log10(n)) - 1);
  const rounded = Math.ceil(n / place) * place;
  const key = rounded * 16 + i;
  const known = criticals.get(key);
  if (known !== undefined) return known;
  const found = esdCritical(rounded, i, RISK_OF_A_LOOK * Math.min(1, LOOKS_IN_FULL / rounded)).toNumber();
  criticals.set(key, found);
  return found;
}

interface Scale {
  readonly mean: number;
  readonly squares: number;
  /** Least standard deviation that is believed. */
  readonly floor: number;
  readonly of: (value: number) => number;
}

/** Numbers of values set apart below and above on one scale. */
function onScale(sample: OrderedMoments, scale: Scale): { readonly low: number; readonly high: number } {
  let { mean, squares } = scale;
  let low = 0;
  let high = 0;
  let found = { low: 0, high: 0 };
  for (let i = 1; i <= suspectsOf(sample.n); i += 1) {
    const n = sample.n - low - high;
    const least = scale.of(sample.least(low));
    const greatest = scale.of(sample.greatest(high));
    const isLow = mean - least > greatest - mean;
    const value = isLow ? least : greatest;
    const deviation = Math.max(Math.sqrt(Math.max(0, squares) / (n - 1)), scale.floor);
    if (isLow) low += 1;
    else high += 1;
    if (deviation > 0 && Math.abs(value - mean) / deviation > critical(sample.n, i)) found = { low, high };
    const before = value - mean;
    mean -= before / (n - 1);
    squares -= before * (value - mean);
  }
  return found;
}

/**
 * Values apart from the rest of their sample, from five values on: Grubbs' test (ISO 5725-2:1994 7.3.4) where one value
 * is suspected, the generalized ESD test (Rosner 1983, Technometrics 25:165; NIST/SEMATECH e-Handbook 1.3.5.17.3) where
 * several are. A value is set apart only when it lies apart on the scale of sizes and on that of their logarithms, so
 * that neither a normal nor a log-normal sample raises alarms. Of labels in which nothing is wrong at most 2 % have a value
 * set apart at any time while they grow. Nothing is removed.
 * @param floor least standard deviation that is believed, in the unit of the values: that of one reading
 */
export function apartValues(sample: OrderedMoments, floor = 0): ApartValues {
  const { n, mean, squares, logs } = sample;
  const none: ApartValues = { n, low: null, high: null, count: 0 };
  if (n < LEAST_APART) return none;
  const plain = onScale(sample, { mean, squares, floor, of: (value) => value });
  if (plain.low + plain.high === 0) return none;
  const log = logs ? onScale(sample, { ...logs, floor: mean > 0 ? floor / mean : 0, of: Math.log }) : plain;
  const low = Math.min(plain.low, log.low);
  const high = Math.min(plain.high, log.high);
  return {
    n,
    low: low > 0 ? sample.least(low - 1) : null,
    high: high > 0 ? sample.greatest(high - 1) : null,
    count: low + high,
  };
}

/** The moments of a list of numbers. */
export function momentsOf(values: readonly number[]): OrderedMoments {
  const sorted = [...values].sort((a, b) => a - b);
  const of = (list: readonly number[]): { readonly mean: number; readonly squares: number } => {
    const mean = list.reduce((sum, one) => sum + one, 0) / list.length;
    return { mean, squares: list.reduce((sum, one) => sum + (one - mean) ** 2, 0) };
  };
  return {
    n: sorted.length,
    ...of(sorted),
    logs: (sorted[0] ?? 0) > 0 ? of(sorted.map(Math.log)) : null,
    least: (k) => sorted[k] ?? Number.NaN,
    greatest: (k) => sorted[sorted.length - 1 - k] ?? Number.NaN,
  };
}

/** A value and the same value out of a sum may differ in the last binary digit. */
const SAME = 1e-12;

export function isApart(value: number, { low, high }: Pick<ApartValues, "low" | "high">): boolean {
  return (
    (low !== null && value <= low + Math.abs(low) * SAME) ||
    (high !== null && value >= high - Math.abs(high) * SAME)
  );
}
