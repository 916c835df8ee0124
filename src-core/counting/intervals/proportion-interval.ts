import { InputError } from "../../quantity/input-error.ts";
import { betaQuantile, normalQuantile } from "../../statistics/distributions.ts";
import { requireDecimalCount, requireLevel, requireWholeCount } from "./count-checks.ts";

export const PROPORTION_METHODS = ["wilson", "clopper-pearson", "wilson-continuity", "wald"] as const;
/** Wilson is the default; Clopper–Pearson when the level must be guaranteed; Wald is shown for comparison only. */
export type ProportionMethod = (typeof PROPORTION_METHODS)[number];

export interface ProportionInterval {
  readonly method: ProportionMethod;
  /** r/n as a fraction. */
  readonly proportion: number;
  readonly lower: number;
  readonly upper: number;
  readonly level: number;
}

type Limits = readonly [lower: number, upper: number];

function wald(r: number, n: number, z: number): Limits {
  const p = r / n;
  const half = z * Math.sqrt((p * (1 - p)) / n);
  return [p - half, p + half];
}

function wilson(r: number, n: number, z: number): Limits {
  const half = z * Math.sqrt(z * z + 4 * r * (1 - r / n));
  const middle = 2 * r + z * z;
  const scale = 2 * (n + z * z);
  return [(middle - half) / scale, (middle + half) / scale];
}

function wilsonContinuity(r: number, n: number, z: number): Limits {
  const p = r / n;
  const scale = 2 * (n + z * z);
  const below = z * Math.sqrt(z * z - 2 - 1 / n + 4 * p * (n * (1 - p) + 1));
  const above = z * Math.sqrt(z * z + 2 - 1 / n + 4 * p * (n * (1 - p) - 1));
  return [
    r === 0 ? 0 : (2 * r + z * z - 1 - below) / scale,
    r === n ? 1 : (2 * r + z * z + 1 + above) / scale,
  ];
}

function clopperPearson(r: number, n: number, tail: number): Limits {
  return [r === 0 ? 0 : betaQuantile(tail, r, n - r + 1), r === n ? 1 : betaQuantile(1 - tail, r + 1, n - r)];
}

function limitsBy(method: ProportionMethod, r: number, n: number, tail: number): Limits {
  if (method === "clopper-pearson") return clopperPearson(r, n, tail);
  const z = normalQuantile(1 - tail);
  if (method === "wald") return wald(r, n, z);
  if (method === "wilson") return wilson(r, n, z);
  return wilsonContinuity(r, n, z);
}

function requirePart(r: number, n: number, require = requireWholeCount): void {
  require("r", r);
  require("n", n);
  if (n === 0) throw new InputError("n", "must be at least 1: nothing was counted");
  if (r > n) throw new InputError("r", "must not be more than the number counted");
}

/**
 * Limits of a proportion, r of n objects. Methods 1, 3, 4 and 5 of R. G. Newcombe, Statistics in Medicine 17 (1998)
 * 857; limits outside 0…1 are cut to it. Wilson's formula takes half and decimal counts too (half grains) and then interpolates.
 * @throws InputError when r or n is not whole (for Wilson: more than three decimals), n is zero, or r is more than n
 */
export function proportionInterval(
  r: number,
  n: number,
  method: ProportionMethod = "wilson",
  level = 0.95,
): ProportionInterval {
  requirePart(r, n, method === "wilson" ? requireDecimalCount : requireWholeCount);
  const tail = (1 - requireLevel(level)) / 2;
  const [lower, upper] = limitsBy(method, r, n, tail);
  // At r = 0 and r = n a limit is 0 or 1 by algebra; floats would leave it a rounding error away.
  return {
    method,
    proportion: r / n,
    lower: r === 0 ? 0 : Math.max(0, lower),
    upper: r === n ? 1 : Math.min(1, upper),
    level,
  };
}

/** One-sided upper limit of a proportion when none of n was found: 1 − (1 − level)^(1/n). */
export function zeroProportionUpperLimit(n: number, level = 0.95): number {
  requirePart(0, n);
  return -Math.expm1(Math.log1p(-requireLevel(level)) / n);
}
