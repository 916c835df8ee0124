import { Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { studentQuantile, studentTwoSidedP } from "../statistics/distributions.ts";

/**
 * Each pattern is tested at this two-sided risk. There are four (offset, slope, bow, halves), so an even scale raises
 * one in at most 2 of 100 calibrations.
 */
export const PATTERN_RISK = 0.005;
/** A pattern as large as its limit is to be found this often, or it counts as not tested. */
export const PATTERN_POWER = 0.9;
/** However many degrees of freedom: u of the pattern below a third of its limit. */
const LIMIT_IN_U = 3;

/** One pattern estimated from the settings: relative (1), with what is known of it. */
export interface PatternTest {
  readonly value: Decimal;
  /** u of it: from the scatter of the readings, and from the certified lines. */
  readonly standardUncertainty: Decimal;
  readonly degrees: number;
  /** Two-sided, Student's t. */
  readonly p: number;
  /** The size of a pattern that would be found nine times in ten: (t(1 − α/2) + t(0.9))·u. */
  readonly shows: Decimal;
}

export function patternTest(value: Decimal, standardUncertainty: Decimal, degrees: number): PatternTest {
  const needed = studentQuantile(1 - PATTERN_RISK / 2, degrees) + studentQuantile(PATTERN_POWER, degrees);
  return {
    value,
    standardUncertainty,
    degrees,
    p: riskOf(value, standardUncertainty, degrees),
    shows: standardUncertainty.times(Decimal.max(decimal(needed), LIMIT_IN_U)),
  };
}

function riskOf(value: Decimal, u: Decimal, degrees: number): number {
  // What is left of an exact fit is rounding noise of the 34th digit and proves nothing.
  if (value.abs().lessThan("1e-15")) return 1;
  return u.isZero() ? 0 : studentTwoSidedP(value.div(u).toNumber(), degrees);
}

/**
 * Whether a pattern may be named: its u is below a third of the limit it is judged by, and chance alone gives it in
 * fewer than 5 of 1000.
 */
export function isNamed(test: PatternTest, limit: Decimal): boolean {
  return test.p < PATTERN_RISK && test.standardUncertainty.times(LIMIT_IN_U).lessThanOrEqualTo(limit);
}

/** Whether the settings tell anything about a pattern: one is named, or one as large as its limit would have been. */
export function isTested(test: PatternTest, limit: Decimal): boolean {
  return isNamed(test, limit) || test.shows.lessThanOrEqualTo(limit);
}

/** How the u of a pattern follows from m settings in each of `parts` places: s·√(parts/m)/(reach · half the scale). */
export interface PatternPlan {
  readonly parts: number;
  /** What the places see of a pattern of 1. */
  readonly reach: number;
}

export const HALVES: PatternPlan = { parts: 2, reach: 1 };
/** Left quarter, middle half, right quarter: the mean of u² is 7/12 in the quarters and 1/12 in the middle. */
export const QUARTERS: PatternPlan = { parts: 3, reach: 0.5 };

/**
 * How many settings in each place show a pattern of `limit`, each read with s (div), `half` being half the scale (div).
 * Null beyond fifty: then the readings must become better first.
 */
export function settingsEach(plan: PatternPlan, s: Decimal, half: Decimal, limit: Decimal): number | null {
  for (let each = 3; each <= 50; each += 1) {
    const u = s.times(decimal(plan.parts).div(each).sqrt()).div(half.times(plan.reach));
    if (patternTest(ZERO, u, plan.parts * each - plan.parts).shows.lessThanOrEqualTo(limit)) return each;
  }
  return null;
}
