import type { Decimal } from "../quantity/decimal.ts";
import { straightLine, testAgainstZero } from "../statistics/straight-line.ts";
import type { SettingPair } from "./factor-estimate.ts";

/** The line D = a + b·L beside the one through the origin, and Student's test of a = 0. */
export interface InterceptTest {
  /** a and its standard deviation, div. */
  readonly intercept: Decimal;
  readonly standardDeviation: Decimal;
  /** b of this line, div/µm, and its standard deviation. */
  readonly slope: Decimal;
  readonly slopeDeviation: Decimal;
  /** About this line, div. */
  readonly residualDeviation: Decimal;
  /** null when the fit is exact. */
  readonly t: Decimal | null;
  readonly degrees: number;
  readonly p: number;
}

/**
 * Tests whether a line through the origin is right: an intercept other than zero means that each reading is off by the
 * same amount whatever the span, as when different edges of the two lines are read.
 * Null with fewer than three settings or spans all alike.
 */
export function interceptTest(pairs: readonly SettingPair[]): InterceptTest | null {
  const first = pairs[0];
  if (!first || pairs.length < 3 || pairs.every((pair) => pair.length.equals(first.length))) return null;
  const line = straightLine(pairs.map((pair) => ({ x: pair.length, y: pair.divisions })));
  const { t, p } = testAgainstZero(line.intercept, line.interceptError, line.degrees);
  return {
    intercept: line.intercept,
    standardDeviation: line.interceptError,
    slope: line.slope,
    slopeDeviation: line.slopeError,
    residualDeviation: line.residualDeviation,
    t,
    degrees: line.degrees,
    p,
  };
}
