import type { CoverageRule, Uncertainty } from "../calibration/calibration.ts";
import { Decimal, decimal, ONE, TWO } from "../quantity/decimal.ts";
import { normalQuantile, studentQuantile } from "../statistics/distributions.ts";
import { type Contribution, combinedUncertainty, effectiveDegreesOfFreedom } from "./combine.ts";

/** Beyond this many degrees of freedom Student's t and the normal distribution agree to more digits than are printed. */
const PRACTICALLY_INFINITE = decimal("1e9");

/**
 * Coverage factor k for 95 %. `t95`: Student's t at 0.975 for ν truncated to the next lower integer, at least 1
 * (JCGM 100:2008 G.4.1, G.6.4); the normal quantile when ν is infinite. `k2`: k = 2 whatever ν is.
 * @param degreesOfFreedom ν_eff, not truncated; null: infinite
 */
export function coverageFactor(rule: CoverageRule, degreesOfFreedom: Decimal | null): Decimal {
  if (rule === "k2") return TWO;
  if (degreesOfFreedom === null || degreesOfFreedom.greaterThan(PRACTICALLY_INFINITE)) {
    return decimal(normalQuantile(0.975));
  }
  const whole = Decimal.max(ONE, degreesOfFreedom.floor()).toNumber();
  return decimal(studentQuantile(0.975, whole));
}

/** u_c, ν_eff, k and U = k·u_c of independent contributions, JCGM 100:2008 6.2.1 and G.6.4. */
export function uncertaintyOf(contributions: readonly Contribution[], rule: CoverageRule): Uncertainty {
  const standard = combinedUncertainty(contributions);
  const degreesOfFreedom = effectiveDegreesOfFreedom(contributions);
  const k = coverageFactor(rule, degreesOfFreedom);
  return { standard, degreesOfFreedom, coverageFactor: k, expanded: standard.times(k) };
}
