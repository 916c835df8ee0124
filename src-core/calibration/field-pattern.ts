import { Decimal } from "../quantity/decimal.ts";
import type { PlacedSetting } from "./halves.ts";
import { isNamed, isTested, type PatternTest } from "./pattern-test.ts";
import { coefficientTest, fitScale, type ScaleFit } from "./scale-fit.ts";

export const FIELD_PATTERNS = ["even", "bow", "stretched-left", "stretched-right"] as const;
/**
 * How the scale changes along the reticle. `bow`: both ends differ from the middle alike, as by distortion of the
 * eyepiece or objective; `stretched-…`: the divisions at that end cover more µm, as by a tilted slide or reticle.
 */
export type FieldPattern = (typeof FIELD_PATTERNS)[number];

/** Limits of a pattern, relative. */
export interface FieldLimits {
  readonly halves: Decimal;
  readonly field: Decimal;
}

export interface FieldScale {
  /** Null where neither slope nor bow could be tested. */
  readonly pattern: FieldPattern | null;
  /** Local factor at the ends of the scale used, relative to its middle: 0.01 is 1 % more µm per division. */
  readonly atLeft: Decimal;
  readonly atRight: Decimal;
  /** Factor of the right half less that of the left. Null where the settings leave nothing to test it with. */
  readonly slope: PatternTest | null;
  /** Factor at both ends less that in the middle. Null as above. */
  readonly bow: PatternTest | null;
  readonly slopeTested: boolean;
  readonly bowTested: boolean;
}

const NOT_TESTED: FieldScale = {
  pattern: null,
  atLeft: new Decimal(0),
  atRight: new Decimal(0),
  slope: null,
  bow: null,
  slopeTested: false,
  bowTested: false,
};

/**
 * ∫ of 1, u, u² over the divisions that a certified length covers from its left reading on, u from −1 at the left end
 * of the scale used to +1 at its right: the design of D = ∫ φ(x) dx with φ = c₀ + c₁u + c₂u² divisions per b·µm. The
 * right reading, which scatters, is in D alone.
 */
function designRow(scale: ScaleFit, setting: PlacedSetting, middle: Decimal, half: Decimal): Decimal[] {
  const from = setting.reticleLeft;
  const left = from.minus(middle).div(half);
  const right = from.plus(setting.length.times(scale.perLength)).minus(middle).div(half);
  return [1, 2, 3].map((k) => right.pow(k).minus(left.pow(k)).div(k).times(half));
}

function patternOf(slope: PatternTest | null, bow: PatternTest | null): FieldPattern {
  if (bow && (!slope || bow.value.abs().greaterThanOrEqualTo(slope.value.abs()))) return "bow";
  if (slope) return slope.value.greaterThan(0) ? "stretched-right" : "stretched-left";
  return "even";
}

/** The same test of a coefficient of divisions per µm, as one of µm per division. */
function ofFactor(test: PatternTest): PatternTest {
  return { ...test, value: test.value.negated() };
}

/**
 * Whether the factor changes along the scale. Slope and bow of the local scale are fitted to the divisions read, on the
 * certified positions, and tested by Student's t at `PATTERN_RISK`; each counts as tested only where one is named, or
 * the settings would find one as large as its limit in nine of ten calibrations. Settings over the same divisions test neither.
 */
export function fieldScaleOf(scale: ScaleFit, limits: FieldLimits): FieldScale {
  const { settings } = scale;
  if (settings.length < 3) return NOT_TESTED;
  const low = Decimal.min(...settings.map((one) => one.reticleLeft));
  const high = Decimal.max(...settings.map((one) => one.reticleRight));
  const middle = low.plus(high).div(2);
  const half = high.minus(low).div(2);
  const rows = settings.map((one) => designRow(scale, one, middle, half));
  const testOf = (terms: number, index: number): PatternTest | null => {
    const fit = fitScale(
      scale,
      rows.map((row) => row.slice(0, terms)),
    );
    const centre = fit?.coefficients[0];
    return fit && centre?.greaterThan(0) ? ofFactor(coefficientTest(scale, fit, index, centre)) : null;
  };
  const bow = testOf(3, 2);
  const bowTested = bow !== null && isTested(bow, limits.field);
  // A bow that cannot be told would only make the slope worse.
  const slope = testOf(bowTested ? 3 : 2, 1);
  const slopeTested = slope !== null && isTested(slope, limits.halves);
  const named = {
    slope: slope && isNamed(slope, limits.halves) ? slope : null,
    bow: bow && isNamed(bow, limits.field) ? bow : null,
  };
  const bend = bowTested ? bow.value : new Decimal(0);
  const tilt = slopeTested ? slope.value : new Decimal(0);
  return {
    pattern: slopeTested || bowTested ? patternOf(named.slope, named.bow) : null,
    atLeft: bend.minus(tilt),
    atRight: bend.plus(tilt),
    slope,
    bow,
    slopeTested,
    bowTested,
  };
}
