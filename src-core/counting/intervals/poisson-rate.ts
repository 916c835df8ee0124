import { InputError } from "../../quantity/input-error.ts";
import { betaQuantile, binomialPmf } from "../../statistics/distributions.ts";
import { requireLevel, requirePositiveNumber, requireWholeCount } from "./count-checks.ts";
import { garwoodInterval } from "./poisson-interval.ts";

export interface RateInterval {
  /** Objects per unit of exposure. */
  readonly rate: number;
  readonly lower: number;
  readonly upper: number;
  readonly level: number;
}

/** A count over an exposure (area, volume, time) as a rate with Garwood's limits. */
export function rateInterval(count: number, exposure: number, level = 0.95): RateInterval {
  requirePositiveNumber("exposure", exposure);
  const { lower, upper } = garwoodInterval(count, level);
  return { rate: count / exposure, lower: lower / exposure, upper: upper / exposure, level };
}

/** A count and what it was counted over. */
export interface CountedExposure {
  readonly count: number;
  readonly exposure: number;
}

export interface RateComparison {
  /** First rate over second; null when the second count is zero. */
  readonly ratio: number | null;
  readonly lower: number;
  /** null: no upper limit. */
  readonly upper: number | null;
  /** Exact two-sided p that both rates are equal. */
  readonly p: number;
  readonly level: number;
}

/**
 * Exact two-sided p of k successes in n trials against `chance`: the sum of all outcomes no more probable than k.
 * Outcomes within 1e-7 of the observed probability count as equal, as R's `binom.test` does.
 * @throws InputError when k or n is not a whole number from 0, or k is more than n
 */
export function exactBinomialP(k: number, n: number, chance: number): number {
  requireWholeCount("n", n);
  requireWholeCount("k", k);
  if (k > n) throw new InputError("k", "must not be more than n");
  if (n === 0) return 1;
  const limit = binomialPmf(k, n, chance) * (1 + 1e-7);
  let sum = 0;
  for (let outcome = 0; outcome <= n; outcome += 1) {
    const probability = binomialPmf(outcome, n, chance);
    if (probability <= limit) sum += probability;
  }
  return Math.min(1, sum);
}

function odds(share: number): number | null {
  return share >= 1 ? null : share / (1 - share);
}

/**
 * The ratio of two rates by the exact conditional test: given the total, the first count is binomial; Clopper–Pearson
 * limits of its share become limits of the ratio. J. Przyborowski and H. Wilenski, Biometrika 31 (1940) 313; the
 * same as R's `poisson.test` for two counts.
 */
export function compareRates(first: CountedExposure, second: CountedExposure, level = 0.95): RateComparison {
  requireWholeCount("first.count", first.count);
  requireWholeCount("second.count", second.count);
  requirePositiveNumber("first.exposure", first.exposure);
  requirePositiveNumber("second.exposure", second.exposure);
  const tail = (1 - requireLevel(level)) / 2;
  const perRatio = second.exposure / first.exposure;
  const total = first.count + second.count;
  const lowerShare = first.count === 0 ? 0 : betaQuantile(tail, first.count, second.count + 1);
  const upperShare = second.count === 0 ? 1 : betaQuantile(1 - tail, first.count + 1, second.count);
  const upperOdds = odds(upperShare);
  return {
    ratio: second.count === 0 ? null : (first.count / second.count) * perRatio,
    lower: (odds(lowerShare) ?? 0) * perRatio,
    upper: upperOdds === null ? null : upperOdds * perRatio,
    p: exactBinomialP(first.count, total, first.exposure / (first.exposure + second.exposure)),
    level,
  };
}
