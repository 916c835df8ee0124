import type { Decimal } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";
import { type RoundingRule, roundToPlaces } from "../quantity/rounding.ts";

/** A factor rounded because a laboratory's procedure asks for it, kept beside the exact one and never instead of it. */
export interface WorkingFactor {
  readonly exact: Decimal;
  readonly working: Decimal;
  /** (working − exact)/exact: what every size would be off by. */
  readonly relativeError: Decimal;
}

/**
 * The rounded working factor and the error it brings: 10/7 rounded to 1.4 makes every size 2 % too small.
 * @param places digits after the point
 * @throws InputError `factor`, or `places` when nothing is left of the factor
 */
export function workingFactor(
  exact: Decimal,
  places: number,
  rule: RoundingRule = "half-even",
): WorkingFactor {
  requirePositive("factor", exact);
  const working = requirePositive("places", roundToPlaces(exact, places, rule));
  return { exact, working, relativeError: working.minus(exact).div(exact) };
}
