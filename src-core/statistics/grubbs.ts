import { type Decimal, decimal } from "../quantity/decimal.ts";
import { studentQuantile, studentTwoSidedP } from "./distributions.ts";
import { mean, memberAt, requireLevel, requireSample, requireWhole, standardDeviation } from "./sample.ts";

/** Which values are suspected: the one furthest from the mean on either side, the largest, or the smallest. */
export const GRUBBS_SIDES = ["either", "largest", "smallest"] as const;
export type GrubbsSide = (typeof GRUBBS_SIDES)[number];

export interface GrubbsResult {
  /** Place of the suspected value in the sample, from 0; the first of equals. */
  readonly index: number;
  readonly value: Decimal;
  /** G = |x − x̄|/s; zero when all values are equal. */
  readonly statistic: Decimal;
  readonly critical: Decimal;
  /** Probability of a G this large in a normal sample (an upper bound, exact where it matters). */
  readonly p: number;
  /** True marks a value to be looked at. Nothing is removed: leaving a value out is a decision with a reason. */
  readonly flagged: boolean;
}

/**
 * Critical value of Grubbs' test: (n−1)/√n·√(t²/(n−2+t²)) with t at 1 − α/n (one side) or 1 − α/(2n) (either side),
 * n − 2 degrees of freedom (NIST/SEMATECH e-Handbook 1.3.5.17.1; ISO 5725-2 Table 5 prints it).
 * @param alpha probability of a false alarm, e.g. 0.05
 */
export function grubbsCritical(n: number, alpha: number, side: GrubbsSide): Decimal {
  requireWhole("n", n, 3);
  requireLevel(alpha);
  const cases = side === "either" ? 2 * n : n;
  const t = -studentQuantile(alpha / cases, n - 2);
  return decimal(((n - 1) / Math.sqrt(n)) * Math.sqrt((t * t) / (n - 2 + t * t)));
}

/** Worked in decimals as far as t: (n−1)² − nG² loses digits when one value stands far out. */
function pOf(statistic: Decimal, n: number, side: GrubbsSide): number {
  const squared = statistic.pow(2);
  const left = decimal((n - 1) ** 2).minus(squared.times(n));
  if (!left.greaterThan(0)) return 0;
  const t = squared
    .times(n * (n - 2))
    .div(left)
    .sqrt();
  return Math.min(1, (studentTwoSidedP(t.toNumber(), n - 2) / 2) * (side === "either" ? 2 * n : n));
}

/** Index of the most suspicious value and its signed distance from the mean. */
export function furthest(values: readonly Decimal[], side: GrubbsSide): { index: number; distance: Decimal } {
  const centre = mean(values);
  const distanceAt = (index: number): Decimal => {
    const d = memberAt(values, index).minus(centre);
    if (side === "largest") return d;
    return side === "smallest" ? d.negated() : d.abs();
  };
  let index = 0;
  let distance = distanceAt(0);
  for (let at = 1; at < values.length; at += 1) {
    const here = distanceAt(at);
    if (here.greaterThan(distance)) {
      index = at;
      distance = here;
    }
  }
  return { index, distance };
}

/**
 * Grubbs' test for one outlier in a normal sample (Grubbs 1969, Technometrics 11:1; ASTM E178). It flags and never
 * deletes; several outliers can hide each other, for which `generalizedEsd` is meant.
 * @throws InputError for fewer than three values or a level outside (0, 1)
 */
export function grubbs(values: readonly Decimal[], alpha = 0.05, side: GrubbsSide = "either"): GrubbsResult {
  requireSample("values", values, 3);
  const n = values.length;
  const critical = grubbsCritical(n, alpha, side);
  const deviation = standardDeviation(values);
  const { index, distance } = furthest(values, side);
  const statistic = deviation.isZero() ? deviation : distance.div(deviation);
  return {
    index,
    value: memberAt(values, index),
    statistic,
    critical,
    p: deviation.isZero() ? 1 : pOf(statistic, n, side),
    flagged: statistic.greaterThan(critical),
  };
}
