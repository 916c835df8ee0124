import { Decimal, sumOf, ZERO } from "../quantity/decimal.ts";
import type { FactorEstimator } from "../vocabulary/calibration.ts";
import type { CalculationRule } from "../vocabulary/rules.ts";
import type { CertifiedInterval } from "./certified-scale.ts";
import type { FactorBudgetInput } from "./factor-budget.ts";

type LengthPart = Pick<FactorBudgetInput, "perLength" | "certificate" | "interpolation">;

function longestOf(intervals: readonly CertifiedInterval[]): CertifiedInterval | undefined {
  return intervals.reduce<CertifiedInterval | undefined>(
    (best, one) => (best && !one.length.greaterThan(best.length) ? best : one),
    undefined,
  );
}

/**
 * What the certified lengths bring to u(f), by the estimate that is used (JCGM 100:2008 5.2.2, r = 1: the lines of one
 * micrometer err alike in every setting).
 *
 * Mean of ratios: f·mean(u(Lᵢ)/Lᵢ). Line through the origin: f·u(L)/L of the longest span, since its scale error decides
 * (spans that share a start are then right within a tenth); lines between certified ones with the weight that each
 * setting has in b, ΣLᵢuᵢ/ΣLᵢ². Rule 1 took the longest span for both, and its interpolated ends alone.
 */
export function lengthPart(
  rule: CalculationRule,
  intervals: readonly CertifiedInterval[],
  estimator: FactorEstimator,
  factor: Decimal,
): LengthPart {
  const longest = longestOf(intervals);
  if (!longest) return { perLength: ZERO, certificate: ZERO, interpolation: ZERO };
  if (rule === 1) {
    return {
      perLength: factor.div(longest.length),
      certificate: longest.standardUncertainty,
      interpolation: null,
    };
  }
  if (estimator === "origin-regression") {
    const squares = sumOf(intervals.map(({ length }) => length.times(length)));
    const weighed = sumOf(intervals.map((one) => one.length.times(one.interpolation)));
    return {
      perLength: factor.div(longest.length),
      certificate: longest.certified,
      interpolation: weighed.times(longest.length).div(squares),
    };
  }
  const n = intervals.length;
  const inverse = sumOf(intervals.map(({ length }) => new Decimal(1).div(length))).div(n);
  const mean = (of: "certified" | "interpolation"): Decimal =>
    sumOf(intervals.map((one) => one[of].div(one.length)))
      .div(n)
      .div(inverse);
  return {
    perLength: factor.times(inverse),
    certificate: mean("certified"),
    interpolation: mean("interpolation"),
  };
}
