import { type Decimal, decimal, TWO } from "../quantity/decimal.ts";
import { normalQuantile, studentQuantile } from "../statistics/distributions.ts";
import type { CoverageRule } from "../vocabulary/calibration.ts";
import { type Combined, type Contribution, combine } from "./combine.ts";
import type { Uncertainty } from "./uncertainty.ts";

/** Beyond this many degrees of freedom Student's t and the normal distribution agree to more digits than are printed. */
const PRACTICALLY_INFINITE = decimal("1e9");

/**
 * How far below a whole number ν may lie and still be it: 34-digit arithmetic gives an exact 9 as 8.999…9 for about one u
 * in ten, and k would then be that of 8. The workbook's formula for k allows the same.
 */
const ROUNDING_GUARD = decimal("1e-9");

const NORMAL_95: Decimal = decimal(normalQuantile(0.975));

/** Student's factors already worked out, by whole ν: a sheet asks for the same few again and again. */
const STUDENT_95 = new Map<number, Decimal>();

function student95(degrees: number): Decimal {
  const known = STUDENT_95.get(degrees);
  if (known) return known;
  const k = decimal(studentQuantile(0.975, degrees));
  if (degrees <= 1000) STUDENT_95.set(degrees, k);
  return k;
}

/**
 * ν_eff truncated to the next lower integer, JCGM 100:2008 G.4.1, at least 1. A ν less than 10⁻⁹ below an integer is that
 * integer.
 */
export function truncatedDegreesOfFreedom(degreesOfFreedom: Decimal): number {
  return Math.max(1, degreesOfFreedom.plus(ROUNDING_GUARD).floor().toNumber());
}

/**
 * Coverage factor k for 95 %. `t95`: Student's t at 0.975 for ν truncated (JCGM 100:2008 G.4.1, G.6.4); the normal quantile when ν is infinite. `k2`: k = 2 whatever ν is.
 * @param degreesOfFreedom ν_eff, not truncated; null: infinite
 */
export function coverageFactor(rule: CoverageRule, degreesOfFreedom: Decimal | null): Decimal {
  if (rule === "k2") return TWO;
  if (degreesOfFreedom === null || degreesOfFreedom.greaterThan(PRACTICALLY_INFINITE)) {
    return NORMAL_95;
  }
  return student95(truncatedDegreesOfFreedom(degreesOfFreedom));
}

/** u_c, ν_eff, k and U = k·u_c of independent contributions, JCGM 100:2008 6.2.1 and G.6.4. */
export function uncertaintyOf(contributions: readonly Contribution[], rule: CoverageRule): Uncertainty {
  return expandedOf(combine(contributions), rule);
}

/** As `uncertaintyOf`, of contributions that are combined already. */
export function expandedOf(
  { standard, degreesOfFreedom }: Pick<Combined, "standard" | "degreesOfFreedom">,
  rule: CoverageRule,
): Uncertainty {
  const k = coverageFactor(rule, degreesOfFreedom);
  return { standard, degreesOfFreedom, coverageFactor: k, expanded: standard.times(k) };
}
