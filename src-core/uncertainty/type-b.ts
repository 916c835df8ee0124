import { Decimal, decimal, PI, ZERO } from "../quantity/decimal.ts";
import { InputError, requireNotNegative, requirePositive } from "../quantity/input-error.ts";
import { normalQuantile } from "../statistics/distributions.ts";

export const ROOT_3: Decimal = decimal(3).sqrt();
export const ROOT_12: Decimal = decimal(12).sqrt();
export const ROOT_45: Decimal = decimal(45).sqrt();

/** u of a rectangular distribution of half-width a: a/√3, JCGM 100:2008 4.3.7 eq. (7). */
export function rectangular(halfWidth: Decimal): Decimal {
  return requireNotNegative("halfWidth", halfWidth).div(ROOT_3);
}

/** u of a triangular distribution of half-width a: a/√6, JCGM 100:2008 4.3.9 eq. (9b). */
export function triangular(halfWidth: Decimal): Decimal {
  return requireNotNegative("halfWidth", halfWidth).div(decimal(6).sqrt());
}

/**
 * u of a symmetric trapezoid with base 2a and top 2aβ: a√((1+β²)/6), JCGM 100:2008 4.3.9 eq. (9a).
 * β = 1 is the rectangle, β = 0 the triangle.
 */
export function trapezoidal(halfWidth: Decimal, beta: Decimal): Decimal {
  requireNotNegative("beta", beta);
  if (beta.greaterThan(1)) throw new InputError("beta", "must be from 0 to 1");
  return requireNotNegative("halfWidth", halfWidth).times(beta.times(beta).plus(1).div(6).sqrt());
}

/** u of a U-shaped (arc sine) distribution of half-width a: a/√2, as for a cyclic variation, JCGM 100:2008 H.1.3.4. */
export function arcSine(halfWidth: Decimal): Decimal {
  return requireNotNegative("halfWidth", halfWidth).div(decimal(2).sqrt());
}

/** u of a stated expanded uncertainty: U/k, JCGM 100:2008 4.3.3. */
export function fromExpanded(expanded: Decimal, coverageFactor: Decimal): Decimal {
  return requireNotNegative("expanded", expanded).div(requirePositive("coverageFactor", coverageFactor));
}

/** u of a half-width stated with a level of confidence, taken as normal: a/z, JCGM 100:2008 4.3.4. */
export function fromNormalInterval(halfWidth: Decimal, confidence: number): Decimal {
  if (!(confidence > 0 && confidence < 1)) throw new InputError("confidence", "must lie between 0 and 1");
  return requireNotNegative("halfWidth", halfWidth).div(normalQuantile((1 + confidence) / 2));
}

/** u of a reading to the smallest step r: r/√12, JCGM 100:2008 F.2.2.1. */
export function fromResolution(step: Decimal): Decimal {
  return requireNotNegative("step", step).div(ROOT_12);
}

/**
 * ν of a judged uncertainty whose own relative doubt is Δu/u: ½(Δu/u)⁻², JCGM 100:2008 G.4.2 eq. (G.3).
 * null (infinite) for a doubt of zero.
 */
export function degreesOfJudgedUncertainty(relativeUncertainty: Decimal): Decimal | null {
  requireNotNegative("relativeDoubt", relativeUncertainty);
  if (relativeUncertainty.isZero()) return null;
  return new Decimal(1).div(relativeUncertainty.times(relativeUncertainty).times(2));
}

/** Mean and standard uncertainty of κ = θ²/2 for an angle known only to lie within ±a. */
export interface CosineTerm {
  readonly mean: Decimal;
  readonly standardUncertainty: Decimal;
}

/**
 * The cosine error of a misalignment of at most `halfAngle` degrees, θ rectangular: E κ = a²/6, u(κ) = a²/√45.
 * From the moments of θ (E θ² = a²/3, E θ⁴ = a⁴/5); a cosine error has a mean that is not zero,
 * JCGM 100:2008 F.2.4.4.
 */
export function cosineTerm(halfAngle: Decimal): CosineTerm {
  if (requireNotNegative("halfAngle", halfAngle).isZero()) return { mean: ZERO, standardUncertainty: ZERO };
  const square = halfAngle.times(PI).div(180).pow(2);
  return { mean: square.div(6), standardUncertainty: square.div(ROOT_45) };
}
