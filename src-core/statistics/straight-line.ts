import { type Decimal, ONE, sumOf, ZERO } from "../quantity/decimal.ts";
import { InputError, requireCount, requireFinite, requirePositive } from "../quantity/input-error.ts";
import { fUpperP, studentTwoSidedP } from "./distributions.ts";
import { type Interval, studentInterval } from "./interval.ts";
import { memberAt } from "./sample.ts";

export interface Point {
  readonly x: Decimal;
  readonly y: Decimal;
}

/** @throws InputError naming `field.i.x` or `field.i.y` */
export function requirePoints(field: string, points: readonly Point[], least: number): void {
  requireCount(field, points, least);
  points.forEach((point, index) => {
    requireFinite(`${field}.${index}.x`, point.x);
    requireFinite(`${field}.${index}.y`, point.y);
  });
}

/** Analysis of a fit's sums of squares. */
export interface FitQuality {
  readonly regressionSquares: Decimal;
  readonly residualSquares: Decimal;
  /** ν of the residuals. */
  readonly degrees: number;
  /** √(SSres/ν), unit of y. */
  readonly residualDeviation: Decimal;
  /** Null when y has no spread. */
  readonly rSquared: Decimal | null;
  /** MSreg/MSres; null when every residual is zero. */
  readonly f: Decimal | null;
  readonly p: number | null;
}

/** @param parameters slopes tested, 1 here */
export function fitQuality(
  regressionSquares: Decimal,
  residualSquares: Decimal,
  totalSquares: Decimal,
  degrees: number,
): FitQuality {
  const meanSquare = residualSquares.div(degrees);
  const f = meanSquare.isZero() ? null : regressionSquares.div(meanSquare);
  return {
    regressionSquares,
    residualSquares,
    degrees,
    residualDeviation: meanSquare.sqrt(),
    rSquared: totalSquares.isZero() ? null : ONE.minus(residualSquares.div(totalSquares)),
    f,
    p: f === null ? null : fUpperP(f.toNumber(), 1, degrees),
  };
}

/** y = intercept + slope·x by (weighted) least squares; x is taken as exact. */
export interface StraightLine extends FitQuality {
  readonly n: number;
  readonly intercept: Decimal;
  readonly slope: Decimal;
  readonly interceptError: Decimal;
  readonly slopeError: Decimal;
  /** Correlation coefficient of intercept and slope as estimates. */
  readonly correlation: Decimal;
  /** Weighted means and Sxx = Σw(x − x̄)², which predictions and reaching dates need. */
  readonly meanX: Decimal;
  readonly meanY: Decimal;
  readonly sxx: Decimal;
  readonly residuals: readonly Decimal[];
}

function normalised(weights: readonly Decimal[] | undefined, n: number): Decimal[] {
  if (weights === undefined) return new Array<Decimal>(n).fill(ONE);
  if (weights.length !== n) throw new InputError("weights", `needs one weight per point, ${n}`);
  weights.forEach((weight, index) => {
    requirePositive(`weights.${index}`, weight);
  });
  const scale = sumOf(weights).div(n);
  return weights.map((weight) => weight.div(scale));
}

/**
 * Straight line by least squares (Draper and Smith, Applied Regression Analysis; JCGM 100:2008 H.3.2 prints the same
 * formulas). Weights count relatively: they are scaled to a mean of 1 and the scatter is estimated from the residuals.
 * @throws InputError for fewer than three points, equal x throughout, or weights that are not positive
 */
export function straightLine(points: readonly Point[], weights?: readonly Decimal[]): StraightLine {
  requirePoints("points", points, 3);
  const n = points.length;
  const w = normalised(weights, n);
  const weighted = (term: (point: Point) => Decimal) =>
    points.reduce((sum, point, index) => sum.plus(memberAt(w, index).times(term(point))), ZERO);
  const meanX = weighted(({ x }) => x).div(n);
  const meanY = weighted(({ y }) => y).div(n);
  const sxx = weighted(({ x }) => x.minus(meanX).pow(2));
  if (sxx.isZero()) throw new InputError("points", "must not all have the same x");
  const sxy = weighted(({ x, y }) => x.minus(meanX).times(y.minus(meanY)));
  const syy = weighted(({ y }) => y.minus(meanY).pow(2));
  const slope = sxy.div(sxx);
  const intercept = meanY.minus(slope.times(meanX));
  const residuals = points.map(({ x, y }) => y.minus(meanY).minus(slope.times(x.minus(meanX))));
  const residualSquares = residuals.reduce(
    (sum, r, index) => sum.plus(memberAt(w, index).times(r.pow(2))),
    ZERO,
  );
  const quality = fitQuality(sxy.pow(2).div(sxx), residualSquares, syy, n - 2);
  const centre = ONE.div(n).plus(meanX.pow(2).div(sxx)).sqrt();
  return {
    ...quality,
    n,
    intercept,
    slope,
    slopeError: quality.residualDeviation.div(sxx.sqrt()),
    interceptError: quality.residualDeviation.times(centre),
    correlation: meanX.negated().div(sxx.sqrt()).div(centre),
    meanX,
    meanY,
    sxx,
    residuals,
  };
}

export interface LinePrediction {
  readonly value: Decimal;
  /** s·√(1/n + (x − x̄)²/Sxx): standard uncertainty of the line at x (JCGM 100:2008 H.3.4). */
  readonly standardError: Decimal;
  /** s·√(1 + 1/n + (x − x̄)²/Sxx): of one further observation at x. */
  readonly observationError: Decimal;
}

/** The line at x, as a mean and as a further observation; ν is that of the line. */
export function predict(line: StraightLine, x: Decimal): LinePrediction {
  requireFinite("x", x);
  const off = x.minus(line.meanX);
  const part = ONE.div(line.n).plus(off.pow(2).div(line.sxx));
  return {
    value: line.meanY.plus(line.slope.times(off)),
    standardError: line.residualDeviation.times(part.sqrt()),
    observationError: line.residualDeviation.times(part.plus(1).sqrt()),
  };
}

/**
 * Interval at x: of the line itself, or of one further observation (prediction interval), by Student's t with the ν of
 * the line.
 */
export function lineInterval(
  line: StraightLine,
  x: Decimal,
  level: number,
  of: "line" | "observation",
): Interval {
  const { value, standardError, observationError } = predict(line, x);
  return studentInterval(value, of === "line" ? standardError : observationError, line.degrees, level);
}

export interface SlopeTest {
  /** estimate/standard error; null when the fit is exact. */
  readonly t: Decimal | null;
  /** Two-sided; 0 for an exact fit with an estimate other than zero, 1 for zero. */
  readonly p: number;
}

/** Student's test of an estimate (slope, intercept) against zero. */
export function testAgainstZero(estimate: Decimal, error: Decimal, degrees: number): SlopeTest {
  requireFinite("estimate", estimate);
  if (error.isZero()) return { t: null, p: estimate.isZero() ? 1 : 0 };
  const t = estimate.div(error);
  return { t, p: studentTwoSidedP(t.toNumber(), degrees) };
}

/** Points from two lists of equal length. @throws InputError when the lengths differ */
export function pointsOf(x: readonly Decimal[], y: readonly Decimal[]): Point[] {
  if (x.length !== y.length) throw new InputError("y", `needs as many values as x, ${x.length}`);
  return x.map((value, index) => ({ x: value, y: memberAt(y, index) }));
}
