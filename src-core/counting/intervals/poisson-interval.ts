import { chiSquaredQuantile, normalQuantile } from "../../statistics/distributions.ts";
import { requireDecimalCount, requireLevel } from "./count-checks.ts";

/** Limits for the mean of a count, in objects. */
export interface PoissonInterval {
  readonly count: number;
  readonly lower: number;
  readonly upper: number;
  readonly level: number;
  /** False for a count that is not whole: the χ² formula then interpolates between whole counts. */
  readonly exact: boolean;
}

/**
 * Exact two-sided limits of a Poisson mean: lower χ²(α/2; 2c)/2 (0 for c = 0), upper χ²(1 − α/2; 2c + 2)/2.
 * F. Garwood, Biometrika 28 (1936) 437. Holds only when objects lie at random: see `dispersionTest`.
 * @throws InputError when the count is negative or has more than three decimals, or the level is not inside (0, 1)
 */
export function garwoodInterval(count: number, level = 0.95): PoissonInterval {
  requireDecimalCount("count", count);
  const tail = (1 - requireLevel(level)) / 2;
  return {
    count,
    lower: count === 0 ? 0 : chiSquaredQuantile(tail, 2 * count) / 2,
    upper: chiSquaredQuantile(1 - tail, 2 * count + 2) / 2,
    level,
    exact: Number.isInteger(count),
  };
}

/** One-sided upper limit of the mean when nothing was counted: −ln(1 − level), 2.9957 objects at 95 %. */
export function zeroCountUpperLimit(level = 0.95): number {
  return -Math.log(1 - requireLevel(level));
}

/** Relative 95 % half-width by the shortcut 2/√n. */
export interface ShortcutPrecision {
  /** 2/√n as a fraction; null for a count of zero. */
  readonly relativeHalfWidth: number | null;
  /** Always true: the shortcut takes random scatter for granted and ignores every other source. */
  readonly optimistic: true;
  readonly caution: string;
}

/**
 * The shortcut 2/√n. J. W. G. Lund, C. Kipling and E. D. Le Cren, Hydrobiologia 11 (1958) 143; from memory.
 * K. Salonen, P. Salmi and J. Keskitalo (2021) advise to drop it, because organisms are seldom spread at random.
 */
export function shortcutPrecision(count: number): ShortcutPrecision {
  requireDecimalCount("count", count);
  return {
    relativeHalfWidth: count === 0 ? null : 2 / Math.sqrt(count),
    optimistic: true,
    caution: "2/√n is optimistic: it holds only for objects spread at random, and for the count alone.",
  };
}

/** How precisely a count fixes its mean, as fractions of the count. */
export interface CountPrecision {
  /** z/√c, the normal approximation. */
  readonly normal: number;
  /** (lower − c)/c, negative, and (upper − c)/c by Garwood's limits. */
  readonly below: number;
  readonly above: number;
}

/** Relative precision reached by a count; null for zero. */
export function countPrecision(count: number, level = 0.95): CountPrecision | null {
  const interval = garwoodInterval(count, level);
  if (count === 0) return null;
  return {
    normal: normalQuantile(1 - (1 - level) / 2) / Math.sqrt(count),
    below: interval.lower / count - 1,
    above: interval.upper / count - 1,
  };
}
