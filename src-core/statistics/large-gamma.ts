import { InputError } from "../quantity/input-error.ts";

/*
 * The library's incomplete gamma function is wrong by up to 3 % where its argument passes 1000 (it takes an asymptotic
 * series for x ≈ a outside its range), which is a count of 500 and more, or 1000 degrees of freedom. Here that region
 * is computed from the power series below x = a and the continued fraction above (Abramowitz and Stegun 6.5.29,
 * 6.5.31); both need some multiple of √a terms.
 */

/** From this a on the functions here are used: well below the library's fault, well above small-a difficulties. */
export const LARGE_GAMMA_SHAPE = 200;

const ENOUGH = 1e-17;
const MOST_TERMS = 1_000_000;

/** σ − ln(1 + σ) for σ > −1, without cancellation near zero. */
function excessOverLog(sigma: number): number {
  if (Math.abs(sigma) > 0.1) return sigma - Math.log1p(sigma);
  let power = sigma * sigma;
  let sum = 0;
  for (let n = 2; n < 40; n += 1) {
    const term = power / n;
    sum += n % 2 === 0 ? term : -term;
    if (Math.abs(term) <= ENOUGH * sum) break;
    power *= sigma;
  }
  return sum;
}

/** x^a·e^−x/Γ(a + 1) for large a, with Stirling's series for Γ. */
function poissonTerm(a: number, x: number): number {
  const stirling = 1 / (12 * a) - 1 / (360 * a ** 3) + 1 / (1260 * a ** 5);
  return Math.exp(-a * excessOverLog((x - a) / a) - stirling) / Math.sqrt(2 * Math.PI * a);
}

/** Σ x^n/((a + 1)…(a + n)): P(a, x) over the Poisson term, for x < a. */
function lowerSeries(a: number, x: number): number {
  let term = 1;
  let sum = 1;
  for (let n = 1; n < MOST_TERMS && term > ENOUGH * sum; n += 1) {
    term *= x / (a + n);
    sum += term;
  }
  return sum;
}

/** Q(a, x) over a times the Poisson term, for x ≥ a: the continued fraction by Lentz's method. */
function upperFraction(a: number, x: number): number {
  let b = x + 1 - a;
  let c = Number.POSITIVE_INFINITY;
  let d = 1 / b;
  let value = d;
  for (let n = 1; n < MOST_TERMS; n += 1) {
    const step = -n * (n - a);
    b += 2;
    d = 1 / (step * d + b);
    c = b + step / c;
    const change = c * d;
    value *= change;
    if (Math.abs(change - 1) <= 4e-16) break;
  }
  return value;
}

/**
 * Tails of the gamma distribution of shape a ≥ 200 at x > 0: P(a, x) and Q(a, x), the smaller one computed directly.
 * @throws InputError when a is below 200 or x not positive and finite
 */
export function largeGammaTails(a: number, x: number): { readonly lower: number; readonly upper: number } {
  if (!(a >= LARGE_GAMMA_SHAPE && a < Number.POSITIVE_INFINITY)) {
    throw new InputError("a", "must be 200 or more and finite");
  }
  if (!(x > 0 && x < Number.POSITIVE_INFINITY))
    throw new InputError("x", "must be greater than zero and finite");
  const term = poissonTerm(a, x);
  if (x < a) {
    const lower = term * lowerSeries(a, x);
    return { lower, upper: 1 - lower };
  }
  const upper = term * a * upperFraction(a, x);
  return { lower: 1 - upper, upper };
}

/**
 * x with P(a, x) = p for shape a ≥ 200: Newton's steps on the smaller tail from the cube-root approximation of
 * E. B. Wilson and M. M. Hilferty (1931).
 * @param z the standard normal quantile of p
 */
export function largeGammaQuantile(p: number, a: number, z: number): number {
  let x = a * (1 - 1 / (9 * a) + z / (3 * Math.sqrt(a))) ** 3;
  for (let step = 0; step < 50; step += 1) {
    const tails = largeGammaTails(a, x);
    const density = (poissonTerm(a, x) * a) / x;
    const error = p < 0.5 ? tails.lower - p : 1 - p - tails.upper;
    const change = error / density;
    x -= change;
    if (Math.abs(change) <= 1e-15 * x) break;
  }
  return x;
}
