import { Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { testAgainstZero } from "../statistics/straight-line.ts";
import type { PlacedSetting } from "./halves.ts";
import { type LinearFit, linearFit } from "./least-squares.ts";

export const FIELD_PATTERNS = ["even", "bow", "stretched-left", "stretched-right"] as const;
/**
 * How the scale changes along the reticle. `bow`: both ends differ from the middle alike, as by distortion of the
 * eyepiece or objective; `stretched-…`: the divisions at that end cover more µm, as by a tilted slide or reticle.
 */
export type FieldPattern = (typeof FIELD_PATTERNS)[number];

export interface FieldScale {
  readonly pattern: FieldPattern;
  /** Local factor at the ends of the scale used, relative to its middle: 0.01 is 1 % more µm per division. */
  readonly atLeft: Decimal;
  readonly atRight: Decimal;
  /** Two-sided p of the slope and of the bow of the local factor; the bow is null when it could not be tested. */
  readonly slopeP: number;
  readonly bowP: number | null;
}

/** Two patterns are tried on one set of settings, so each must be clear at 1 %. */
const CLEAR = 0.01;

/**
 * ∫ of 1, u, u² over a reticle interval, u from −1 at the left end of the scale used to +1 at its right: the design of
 * L = ∫ φ(x) dx with the local factor φ = c₀ + c₁u + c₂u².
 */
function designRow(setting: PlacedSetting, middle: Decimal, half: Decimal, terms: number): Decimal[] {
  const left = setting.reticleLeft.minus(middle).div(half);
  const right = setting.reticleRight.minus(middle).div(half);
  return Array.from({ length: terms }, (_, k) =>
    right
      .pow(k + 1)
      .minus(left.pow(k + 1))
      .div(k + 1)
      .times(half),
  );
}

interface Tested {
  readonly coefficient: Decimal;
  readonly p: number;
}

function tested(fit: LinearFit, index: number): Tested {
  const coefficient = fit.coefficients[index] ?? ZERO;
  const deviation = fit.deviations[index] ?? ZERO;
  // Residuals of an exact fit are rounding noise of the 34th digit and prove nothing.
  const size = fit.coefficients[0]?.abs() ?? ZERO;
  if (coefficient.abs().lessThan(size.times("1e-15"))) return { coefficient: ZERO, p: 1 };
  return { coefficient, p: testAgainstZero(coefficient, deviation, fit.degrees).p };
}

function patternOf(slope: Tested, bow: Tested | null): FieldPattern {
  if (bow && bow.p < CLEAR && bow.coefficient.abs().greaterThanOrEqualTo(slope.coefficient.abs()))
    return "bow";
  if (slope.p < CLEAR) return slope.coefficient.greaterThan(0) ? "stretched-right" : "stretched-left";
  return bow && bow.p < CLEAR ? "bow" : "even";
}

/**
 * Whether the factor changes along the scale. The local factor is a parabola over the reticle, fitted to the certified
 * lengths; slope and bow are tested by Student's t. Null when the settings cannot show it: fewer than three, or all
 * over the same divisions.
 */
export function fieldScaleOf(settings: readonly PlacedSetting[]): FieldScale | null {
  if (settings.length < 3) return null;
  const low = Decimal.min(...settings.map((one) => one.reticleLeft));
  const high = Decimal.max(...settings.map((one) => one.reticleRight));
  const middle = low.plus(high).div(2);
  const half = high.minus(low).div(2);
  const lengths = settings.map((one) => one.length);
  const fitOf = (terms: number): LinearFit | null =>
    linearFit(
      settings.map((one) => designRow(one, middle, half, terms)),
      lengths,
    );
  const full = fitOf(3);
  const fit = full ?? fitOf(2);
  const centre = fit?.coefficients[0];
  if (!fit || !centre || centre.isZero()) return null;
  const slope = tested(fit, 1);
  const bow = full ? tested(full, 2) : null;
  const bend = bow?.coefficient ?? decimal(0);
  return {
    pattern: patternOf(slope, bow),
    atLeft: bend.minus(slope.coefficient).div(centre),
    atRight: bend.plus(slope.coefficient).div(centre),
    slopeP: slope.p,
    bowP: bow?.p ?? null,
  };
}
