import { type Decimal, decimal, ONE, sumOf, ZERO } from "../../quantity/decimal.ts";
import { fUpperP, studentQuantile } from "../../statistics/distributions.ts";
import type { Interval } from "../../statistics/interval.ts";
import { mean, standardDeviation } from "../../statistics/sample.ts";

/** So rarely does a result lie beyond the limits that the earlier ones give, with nothing wrong: a choice. */
export const CONTROL_RISK = 0.01;

/** Fewer earlier results give limits that nothing ever passes; a choice. */
export const LEAST_EARLIER = 6;

/** A result of a series beside what the earlier ones say of it. */
export interface Charted<T, L> {
  /** null while there are too few earlier ones. */
  readonly limits: L | null;
  /** Earlier results that the limits rest on: those that lay within theirs. */
  readonly earlier: readonly T[];
  readonly isBeyond: boolean;
}

/**
 * Goes through a series, oldest first. One that lies beyond its limits does not widen those of the later ones.
 * @param limitsOf null where the earlier ones are too few
 */
export function charted<T, L>(
  series: readonly T[],
  limitsOf: (earlier: readonly T[], one: T) => L | null,
  isBeyond: (one: T, limits: L) => boolean,
): Charted<T, L>[] {
  const earlier: T[] = [];
  return series.map((one) => {
    const limits = limitsOf(earlier, one);
    const found = { limits, earlier: [...earlier], isBeyond: limits !== null && isBeyond(one, limits) };
    if (!found.isBeyond) earlier.push(one);
    return found;
  });
}

/**
 * Where the next of a series lies with a risk of 1 in 100: x̄ ± t(0.995, n − 1)·s·√(1 + 1/n), the prediction interval of a
 * normal distribution (G. J. Hahn and W. Q. Meeker: Statistical Intervals (1991), 4.8; from memory). Unlike x̄ ± 3s it
 * holds its risk however few the earlier ones are.
 * @returns null below six earlier ones, and while all of them agree: then the next one that differs is nothing odd
 */
export function predictionLimits(earlier: readonly Decimal[]): Interval | null {
  const n = earlier.length;
  if (n < LEAST_EARLIER) return null;
  const centre = mean(earlier);
  const t = decimal(studentQuantile(1 - CONTROL_RISK / 2, n - 1));
  const scatter = standardDeviation(earlier);
  if (scatter.isZero()) return null;
  const half = scatter.times(t).times(ONE.plus(ONE.div(n)).sqrt());
  return { lower: centre.minus(half), upper: centre.plus(half) };
}

/**
 * How far two results of one sample differ, in either direction, with a risk of 1 in 100: t(0.995, n)·√(Σd²/n) of the
 * earlier differences, whose expectation is zero.
 * @returns null below six earlier ones, and while none differs
 */
export function differenceLimit(earlier: readonly Decimal[]): Decimal | null {
  const n = earlier.length;
  if (n < LEAST_EARLIER) return null;
  const square = sumOf(earlier.map((one) => one.pow(2))).div(n);
  if (square.isZero()) return null;
  return square.sqrt().times(decimal(studentQuantile(1 - CONTROL_RISK / 2, n)));
}

/** Objects found over so many equal areas. */
export interface CountedAreas {
  readonly objects: Decimal;
  readonly areas: number;
}

export const together = (all: readonly CountedAreas[]): CountedAreas => ({
  objects: all.reduce((sum, { objects }) => sum.plus(objects), ZERO),
  areas: all.reduce((sum, { areas }) => sum + areas, 0),
});

/**
 * Chance of a blank with so many objects or more, given the earlier ones: all objects together are spread over the areas by
 * the binomial law, whatever their true number (the conditional test of two Poisson counts, one-sided; J. Przyborowski
 * and H. Wilenski, Biometrika 31 (1940) 313). Of halves fewer are taken here and more there: no alarm comes of rounding.
 * @returns 1 where nothing was found
 */
export function blankChance(earlier: readonly CountedAreas[], blank: CountedAreas): number {
  const before = together(earlier);
  const found = blank.objects.floor().toNumber();
  const all = found + before.objects.ceil().toNumber();
  const share = blank.areas / (blank.areas + before.areas);
  if (found === 0) return 1;
  // The upper tail of a binomial distribution is that of an F distribution.
  const fewer = all - found + 1;
  return fUpperP(((1 - share) * found) / (share * fewer), 2 * fewer, 2 * found);
}

/** The most objects of a blank over so many areas that chance still gives with more than 1 in 100; null without an earlier one. */
export function blankLimit(earlier: readonly CountedAreas[], areas: number): Decimal | null {
  if (earlier.length === 0) return null;
  const isGiven = (objects: number): boolean =>
    blankChance(earlier, { objects: decimal(objects), areas }) > CONTROL_RISK;
  let [most, beyond] = [0, 1];
  while (isGiven(beyond)) [most, beyond] = [beyond, 2 * beyond];
  while (beyond - most > 1) {
    const middle = Math.floor((most + beyond) / 2);
    if (isGiven(middle)) most = middle;
    else beyond = middle;
  }
  return decimal(most);
}
