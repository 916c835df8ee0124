import { countedNoun } from "../quantity/counted-noun.ts";
import { type Decimal, decimal, ONE, sumOf, ZERO } from "../quantity/decimal.ts";
import { roundToSignificant } from "../quantity/rounding.ts";
import type { FactorEstimator } from "../vocabulary/calibration.ts";
import type { RepeatabilityOrigin } from "../vocabulary/repeatability-origin.ts";
import type { CalculationRule } from "../vocabulary/rules.ts";
import type { RepeatabilityLine } from "./factor-budget.ts";
import { meanOfRatios, type OriginFit, type SettingPair } from "./factor-estimate.ts";
import { type PooledRepeatability, repeatabilityOf } from "./repeatability.ts";

const OF_SETTINGS = "Repeatability of the settings";
/** Rule 1 alone. */
const NOT_KNOWN = "Repeatability (one setting only: not known)";

/** What the scatter is reckoned from. */
export interface ScatterInput {
  readonly pairs: readonly SettingPair[];
  readonly fit: OriginFit;
  readonly estimator: FactorEstimator;
  readonly factor: Decimal;
  /** By what the conditions raise the factor. */
  readonly conditioned: Decimal;
  /** D₀ of the estimate, div. */
  readonly lever: Decimal;
}

/** Scatter of the estimate from the settings alone, s_b/b² of the line or s/√n of the ratios, as one of D₀, div. */
function ownScatter({ pairs, fit, estimator, factor, conditioned, lever }: ScatterInput): {
  readonly standard: Decimal;
  readonly divisor: Decimal;
} {
  const inDivisions = (scatter: Decimal): Decimal => scatter.times(conditioned).div(factor).times(lever);
  if (estimator === "mean-of-ratios") {
    const divisor = decimal(pairs.length).sqrt();
    return { standard: inDivisions((meanOfRatios(pairs).deviation ?? ZERO).div(divisor)), divisor };
  }
  const lengths = sumOf(pairs.map((pair) => pair.length));
  const squares = sumOf(pairs.map((pair) => pair.length.times(pair.length)));
  return {
    standard: inDivisions(fit.slopeDeviation.div(fit.slope.times(fit.slope))),
    divisor: lengths.div(squares.sqrt()),
  };
}

const ORIGIN_WORDS: Readonly<Record<RepeatabilityOrigin, (from: number) => string>> = {
  default: () => "assumed: a choice",
  person: (from) => `pooled from ${countedNoun(from, "calibration")} of this person`,
  bench: (from) => `pooled from ${countedNoun(from, "calibration")} of this bench`,
  "repeat readings": (from) =>
    `pooled from ${countedNoun(from, "specimen")} that this person read repeatedly`,
  practice: (from) =>
    `practice: pooled from ${countedNoun(from, "attempt")} of this person at a drawn eyepiece`,
};

/** A pooled repeatability in words: whose, how large, from what. */
export function pooledWords({
  origin,
  deviation,
  degreesOfFreedom,
  calibrations,
}: PooledRepeatability): string {
  const figures = `s = ${roundToSignificant(deviation, 2).toFixed()} div, ν = ${degreesOfFreedom.toFixed()}`;
  return `${figures}, ${ORIGIN_WORDS[origin](calibrations)}`;
}

/** The scatter of the settings as a line of the budget, its name saying where it comes from. */
export function repeatabilityLine(
  rule: CalculationRule,
  scatter: ScatterInput,
  pooled: PooledRepeatability,
): RepeatabilityLine {
  const n = scatter.pairs.length;
  const { standard, divisor } = ownScatter(scatter);
  const alone = { name: OF_SETTINGS, standardUncertainty: standard, divisor };
  if (rule === 1) {
    return n < 2
      ? { name: NOT_KNOWN, standardUncertainty: ZERO, divisor: ONE, degreesOfFreedom: null }
      : { ...alone, degreesOfFreedom: decimal(n - 1) };
  }
  const { deviation, degreesOfFreedom, from } = repeatabilityOf(n, standard.times(divisor), pooled);
  if (from === "settings") return { ...alone, degreesOfFreedom };
  const what = from === "pooled" ? "Repeatability of one setting" : OF_SETTINGS;
  const how = from === "pooled" ? "" : "together with ";
  return {
    name: `${what} (${how}${pooledWords(pooled)})`,
    standardUncertainty: deviation.div(divisor),
    divisor,
    degreesOfFreedom,
  };
}
