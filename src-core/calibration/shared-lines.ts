import { type Decimal, decimal, ONE, ZERO } from "../quantity/decimal.ts";

/** Two ends on one scale: micrometer lines (µm) or reticle readings (div). */
export interface ScaleEnds {
  readonly from: Decimal;
  readonly to: Decimal;
}

const HALF: Decimal = decimal("0.5");

/**
 * Correlation of two intervals whose ends are lines of one scale, each line with its own independent error of equal
 * size: +1 the same interval, +½ one end shared at the same side, −½ the end of one is the start of the other, 0 no
 * line shared. From cov(x_b − x_a, x_d − x_c) with u(x) equal for all lines, JCGM 100:2008 F.1.2.3 eq. (F.2).
 */
export function sharedLineCorrelation(first: ScaleEnds, second: ScaleEnds): Decimal {
  const same = (a: Decimal, b: Decimal): Decimal => (a.equals(b) ? HALF : ZERO);
  return same(first.from, second.from)
    .plus(same(first.to, second.to))
    .minus(same(first.from, second.to))
    .minus(same(first.to, second.from));
}

/**
 * Standard uncertainty of the difference of two intervals with correlation r: √(u₁² + u₂² − 2r·u₁u₂),
 * JCGM 100:2008 5.2.2 eq. (16).
 */
export function differenceUncertainty(first: Decimal, second: Decimal, correlation: Decimal): Decimal {
  const cross = correlation.times(2).times(first).times(second);
  const variance = first.times(first).plus(second.times(second)).minus(cross);
  return variance.lessThan(0) ? ZERO : variance.sqrt();
}

/** The correlation matrix of several intervals of one scale, for JCGM 100:2008 5.2.2. */
export function sharedLineMatrix(intervals: readonly ScaleEnds[]): Decimal[][] {
  return intervals.map((row, i) =>
    intervals.map((column, j) => (i === j ? ONE : sharedLineCorrelation(row, column))),
  );
}
