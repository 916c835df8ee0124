import { type Decimal, ZERO } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";
import { type FitQuality, fitQuality, type Point, requirePoints } from "./straight-line.ts";

/** y = slope·x by least squares; x is taken as exact. R² is the uncentred 1 − SSres/Σy². */
export interface LineThroughOrigin extends FitQuality {
  readonly n: number;
  /** Σxy/Σx². */
  readonly slope: Decimal;
  readonly slopeError: Decimal;
  readonly residuals: readonly Decimal[];
}

/**
 * Line through the origin by least squares (NIST StRD, linear regression, no intercept).
 * @throws InputError for fewer than two points, or when every x is zero
 */
export function lineThroughOrigin(points: readonly Point[]): LineThroughOrigin {
  requirePoints("points", points, 2);
  const total = (term: (point: Point) => Decimal) =>
    points.reduce((sum, point) => sum.plus(term(point)), ZERO);
  const sxx = total(({ x }) => x.pow(2));
  if (sxx.isZero()) throw new InputError("points", "must not all have x = 0");
  const sxy = total(({ x, y }) => x.times(y));
  const slope = sxy.div(sxx);
  const residuals = points.map(({ x, y }) => y.minus(slope.times(x)));
  const residualSquares = residuals.reduce((sum, r) => sum.plus(r.pow(2)), ZERO);
  const quality = fitQuality(
    sxy.pow(2).div(sxx),
    residualSquares,
    total(({ y }) => y.pow(2)),
    points.length - 1,
  );
  return {
    ...quality,
    n: points.length,
    slope,
    slopeError: quality.residualDeviation.div(sxx.sqrt()),
    residuals,
  };
}
