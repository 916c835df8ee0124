import { type Decimal, decimal, ONE } from "../quantity/decimal.ts";
import { InputError, requireCount } from "../quantity/input-error.ts";
import { normalCdf, normalQuantile } from "../statistics/distributions.ts";
import type { Interval } from "../statistics/interval.ts";
import { memberAt, requireLevel, sorted } from "../statistics/sample.ts";
import { type HistoryPoint, requireHistory } from "./baseline.ts";

export interface MannKendall {
  readonly n: number;
  /** S: pairs that rise minus pairs that fall. */
  readonly score: number;
  /** Variance of S without a trend, corrected for tied values. */
  readonly variance: Decimal;
  /** (|S| − 1)/√variance with the sign of S; null when all values are equal. */
  readonly z: Decimal | null;
  /** S over the number of pairs (Kendall's τ_a). */
  readonly tau: Decimal;
  /** Two-sided. */
  readonly p: number;
  /** True when p counts all orders of the values (no ties, n ≤ 30); otherwise the normal approximation. */
  readonly exact: boolean;
  /** Median of the slopes of all pairs (Sen 1968), per day. */
  readonly slope: Decimal;
  /** Interval of that slope (Gilbert 1987, 16.5.2); null where it would reach beyond the slopes there are. */
  readonly slopeInterval: Interval | null;
}

/** All pairs are formed: beyond this the work, and the sense, of it ends. */
const MOST_POINTS = 2000;
const EXACT_TO = 30;

/** P(|S| ≥ |score|) over all orders of n different values, from the numbers of permutations with so many inversions. */
function exactP(n: number, score: number): number {
  let shares = [1];
  for (let size = 2; size <= n; size += 1) {
    const next = new Array<number>(shares.length + size - 1).fill(0);
    shares.forEach((share, inversions) => {
      for (let more = 0; more < size; more += 1) {
        next[inversions + more] = memberAt(next, inversions + more) + share / size;
      }
    });
    shares = next;
  }
  const pairs = (n * (n - 1)) / 2;
  const sum = shares.reduce(
    (total, share, inversions) =>
      Math.abs(pairs - 2 * inversions) >= Math.abs(score) ? total + share : total,
    0,
  );
  return Math.min(1, sum);
}

function tieCorrection(values: readonly Decimal[]): number {
  const times = new Map<string, number>();
  for (const value of values) {
    const key = value.toFixed();
    times.set(key, (times.get(key) ?? 0) + 1);
  }
  let sum = 0;
  for (const t of times.values()) sum += t * (t - 1) * (2 * t + 5);
  return sum;
}

function middleOf(rising: readonly Decimal[]): Decimal {
  const half = Math.floor(rising.length / 2);
  const upper = memberAt(rising, half);
  return rising.length % 2 === 1 ? upper : upper.plus(memberAt(rising, half - 1)).div(2);
}

/** Order statistics at ranks (N ∓ z√var)/2 of the N slopes, the upper one plus one, interpolated between neighbours. */
function slopeInterval(rising: readonly Decimal[], variance: Decimal, level: number): Interval | null {
  const reach = normalQuantile((1 + level) / 2) * Math.sqrt(variance.toNumber());
  const lower = (rising.length - reach) / 2;
  const upper = (rising.length + reach) / 2 + 1;
  if (lower < 1 || upper > rising.length) return null;
  const at = (rank: number) => {
    const below = Math.floor(rank);
    const value = memberAt(rising, below - 1);
    const part = rank - below;
    return part === 0 ? value : value.plus(memberAt(rising, below).minus(value).times(decimal(part)));
  };
  return { lower: at(lower), upper: at(upper) };
}

/**
 * Mann–Kendall test for a trend of any shape (Mann 1945, Econometrica 13:245; Kendall 1975) and Sen's slope (Sen 1968, J.
 * American Statistical Association 63:1379): the robust twin of the straight line.
 * @throws InputError for fewer than three or more than 2000 points, points out of order, or all on one day
 */
export function mannKendall(points: readonly HistoryPoint[], level = 0.95): MannKendall {
  requireCount("points", points, 3);
  requireHistory("points", points);
  requireLevel(level);
  const n = points.length;
  if (n > MOST_POINTS) throw new InputError("points", `must be at most ${MOST_POINTS}`);
  let score = 0;
  const slopes: Decimal[] = [];
  points.forEach((later, j) => {
    for (const earlier of points.slice(0, j)) {
      const rise = later.value.minus(earlier.value);
      const days = later.day.minus(earlier.day);
      score += rise.isZero() ? 0 : rise.isPositive() ? 1 : -1;
      if (!days.isZero()) slopes.push(rise.div(days));
    }
  });
  if (slopes.length === 0) throw new InputError("points", "must not all lie on one day");
  const ties = tieCorrection(points.map(({ value }) => value));
  const variance = decimal(n * (n - 1) * (2 * n + 5) - ties).div(18);
  const towardsZero = ONE.times(Math.sign(score));
  const z = variance.isZero() ? null : decimal(score).minus(towardsZero).div(variance.sqrt());
  const exact = ties === 0 && n <= EXACT_TO;
  const rising = sorted(slopes);
  const approximate = z === null ? 1 : 2 * normalCdf(-Math.abs(z.toNumber()));
  return {
    n,
    score,
    variance,
    z,
    tau: decimal(score).div((n * (n - 1)) / 2),
    p: exact ? exactP(n, score) : Math.min(1, approximate),
    exact,
    slope: middleOf(rising),
    slopeInterval: slopeInterval(rising, variance, level),
  };
}
