import gammaInc from "@stdlib/math-base-special-gammainc";
import betaQuantileOf from "@stdlib/stats-base-dists-beta-quantile";
import binomialPmfOf from "@stdlib/stats-base-dists-binomial-pmf";
import chiSquaredQuantileOf from "@stdlib/stats-base-dists-chisquare-quantile";
import fCdf from "@stdlib/stats-base-dists-f-cdf";
import fQuantileOf from "@stdlib/stats-base-dists-f-quantile";
import normalCdfOf from "@stdlib/stats-base-dists-normal-cdf";
import normalQuantileOf from "@stdlib/stats-base-dists-normal-quantile";
import studentCdf from "@stdlib/stats-base-dists-t-cdf";
import studentQuantileOf from "@stdlib/stats-base-dists-t-quantile";
import { InputError } from "../quantity/input-error.ts";
import { LARGE_GAMMA_SHAPE, largeGammaQuantile, largeGammaTails } from "./large-gamma.ts";

/*
 * The one door to the distributions library. Everything is a binary float, good to about 1e-14 of its value;
 * tests/reference/distributions holds it to 25-digit golden values.
 */

function requireProbability(p: number): void {
  if (!(p > 0 && p < 1)) throw new InputError("p", "must be greater than 0 and less than 1");
}

function requireDegrees(field: string, degrees: number): void {
  if (!(degrees > 0)) throw new InputError(field, "must be greater than zero (or infinite)");
}

function requireNumber(field: string, value: number): void {
  if (Number.isNaN(value)) throw new InputError(field, "is not a number");
}

/** Density of the standard normal distribution at x. */
function normalDensity(x: number): number {
  return Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);
}

/** Φ(x), the standard normal distribution function; keeps its digits in the lower tail. */
export function normalCdf(x: number): number {
  requireNumber("x", x);
  return normalCdfOf(x, 0, 1);
}

/**
 * Lower tail by Newton's method on ln Φ, which is concave, from a start below the root: the library's inverse loses
 * digits below p ≈ 1e-4 and gives up below 1e-16.
 */
function normalLowerQuantile(p: number): number {
  let z = -Math.sqrt(-2 * Math.log(p));
  for (let step = 0; step < 50; step += 1) {
    const below = normalCdfOf(z, 0, 1);
    const change = (Math.log(below / p) * below) / normalDensity(z);
    z -= change;
    if (Math.abs(change) <= 1e-15 * Math.abs(z)) break;
  }
  return z;
}

/**
 * z with Φ(z) = p. The upper half is taken from the lower by symmetry.
 * @throws InputError when p is not inside (0, 1)
 */
export function normalQuantile(p: number): number {
  requireProbability(p);
  if (p > 0.5) return -normalQuantile(1 - p);
  return p < 0.01 ? normalLowerQuantile(p) : normalQuantileOf(p, 0, 1);
}

/**
 * Quantile of Student's t at probability p and ν degrees of freedom (any positive number; Infinity: normal).
 * @throws InputError when p is not inside (0, 1) or ν is not positive
 */
export function studentQuantile(p: number, nu: number): number {
  requireProbability(p);
  requireDegrees("nu", nu);
  return nu === Number.POSITIVE_INFINITY ? normalQuantile(p) : studentQuantileOf(p, nu);
}

/** P(|T| ≥ |t|) for Student's t with ν degrees of freedom (Infinity: normal). */
export function studentTwoSidedP(t: number, nu: number): number {
  requireNumber("t", t);
  requireDegrees("nu", nu);
  if (nu === Number.POSITIVE_INFINITY) return 2 * normalCdf(-Math.abs(t));
  return 2 * studentCdf(-Math.abs(t), nu);
}

/**
 * Quantile of χ² at probability p and ν degrees of freedom.
 * @throws InputError when p is not inside (0, 1) or ν is not positive and finite
 */
export function chiSquaredQuantile(p: number, nu: number): number {
  requireProbability(p);
  requireDegrees("nu", nu);
  if (nu === Number.POSITIVE_INFINITY) throw new InputError("nu", "must be finite");
  // The library is wrong by up to 3 % for large ν: see large-gamma.ts.
  if (nu >= 2 * LARGE_GAMMA_SHAPE) return 2 * largeGammaQuantile(p, nu / 2, normalQuantile(p));
  return chiSquaredQuantileOf(p, nu);
}

/** P(χ² ≥ x) with ν degrees of freedom, computed as an upper tail so that small values keep their digits. */
export function chiSquaredUpperP(x: number, nu: number): number {
  requireNumber("x", x);
  requireDegrees("nu", nu);
  if (nu === Number.POSITIVE_INFINITY) throw new InputError("nu", "must be finite");
  if (x <= 0) return 1;
  if (x === Number.POSITIVE_INFINITY) return 0;
  if (nu >= 2 * LARGE_GAMMA_SHAPE) return largeGammaTails(nu / 2, x / 2).upper;
  return gammaInc(x / 2, nu / 2, true, true);
}

/**
 * Quantile of F with d1 and d2 degrees of freedom; either may be infinite (F(d1, ∞) = χ²(d1)/d1).
 * @throws InputError when p is not inside (0, 1) or a number of degrees of freedom is not positive
 */
export function fQuantile(p: number, d1: number, d2: number): number {
  requireProbability(p);
  requireDegrees("d1", d1);
  requireDegrees("d2", d2);
  const infinite = Number.POSITIVE_INFINITY;
  if (d1 === infinite && d2 === infinite) return 1;
  if (d2 === infinite) return chiSquaredQuantile(p, d1) / d1;
  if (d1 === infinite) return d2 / chiSquaredQuantile(1 - p, d2);
  return fQuantileOf(p, d1, d2);
}

/** P(F ≥ x) with d1 and d2 degrees of freedom (d2 may be infinite), as the lower tail of 1/F so that it keeps digits. */
export function fUpperP(x: number, d1: number, d2: number): number {
  requireNumber("x", x);
  requireDegrees("d1", d1);
  requireDegrees("d2", d2);
  if (d1 === Number.POSITIVE_INFINITY) throw new InputError("d1", "must be finite");
  if (x <= 0) return 1;
  if (x === Number.POSITIVE_INFINITY) return 0;
  return d2 === Number.POSITIVE_INFINITY ? chiSquaredUpperP(d1 * x, d1) : fCdf(1 / x, d2, d1);
}

/**
 * Quantile of the beta distribution with shape parameters a and b.
 * @throws InputError when p is not inside (0, 1) or a shape parameter is not positive and finite
 */
export function betaQuantile(p: number, a: number, b: number): number {
  requireProbability(p);
  for (const [field, shape] of [["a", a] as const, ["b", b] as const]) {
    if (!(shape > 0 && shape < Number.POSITIVE_INFINITY)) {
      throw new InputError(field, "must be greater than zero and finite");
    }
  }
  return betaQuantileOf(p, a, b);
}

/**
 * P(X = k) for k successes in n trials of success probability p.
 * @throws InputError when k or n is not a whole number from 0, or p is not inside (0, 1)
 */
export function binomialPmf(k: number, n: number, p: number): number {
  requireProbability(p);
  for (const [field, count] of [["k", k] as const, ["n", n] as const]) {
    if (!Number.isSafeInteger(count) || count < 0) {
      throw new InputError(field, "must be a whole number, 0 or more");
    }
  }
  return k > n ? 0 : binomialPmfOf(k, n, p);
}
