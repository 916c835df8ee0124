import { Decimal, decimal, sumOf, ZERO } from "../quantity/decimal.ts";
import {
  InputError,
  requireCount,
  requireFinite,
  requireNotNegative,
  requirePositive,
} from "../quantity/input-error.ts";
import { classUncertainty, closeBudget } from "../uncertainty/budget.ts";
import { cosineTerm } from "../uncertainty/type-b.ts";
import type { FactorEstimator } from "../vocabulary/calibration.ts";
import type {
  CalibrationConditions,
  CalibrationInput,
  CalibrationResult,
  SettingResult,
} from "./calibration.ts";
import type { CertifiedInterval } from "./certified-scale.ts";
import { requireConditions } from "./conditions.ts";
import { factorBudget } from "./factor-budget.ts";
import {
  leverInterval,
  meanOfRatios,
  type OriginFit,
  originFit,
  ratioOfSums,
  type SettingPair,
} from "./factor-estimate.ts";
import { settingInterval } from "./setting-interval.ts";

/** More settings than a person can take at one sitting. */
const MOST_SETTINGS = 10_000;

/** [1 + α(t − t₀)]·(1 + E κ): from certified lengths at t₀, mostly 20 °C, to the lengths the reticle saw. */
function conditionFactor(conditions: CalibrationConditions, rise: Decimal): Decimal {
  const growth = conditions.expansion.times(rise).plus(1);
  return growth.times(cosineTerm(conditions.alignmentHalfAngle).mean.plus(1));
}

interface Scatter {
  readonly scatter: Decimal;
  readonly scatterDivisor: Decimal;
}

/** Standard deviation of the factor from the settings themselves: s_b/b² of the line, or s/√n of the ratios. */
function scatterOf(pairs: readonly SettingPair[], fit: OriginFit, estimator: FactorEstimator): Scatter {
  if (estimator === "mean-of-ratios") {
    const root = decimal(pairs.length).sqrt();
    return { scatter: (meanOfRatios(pairs).deviation ?? ZERO).div(root), scatterDivisor: root };
  }
  const lengths = sumOf(pairs.map((pair) => pair.length));
  const squares = sumOf(pairs.map((pair) => pair.length.times(pair.length)));
  return {
    scatter: fit.slopeDeviation.div(fit.slope.times(fit.slope)),
    scatterDivisor: lengths.div(squares.sqrt()),
  };
}

function longestOf(intervals: readonly CertifiedInterval[]): CertifiedInterval {
  const longest = intervals.reduce<CertifiedInterval | null>(
    (best, one) => (best && !one.length.greaterThan(best.length) ? best : one),
    null,
  );
  if (!longest) throw new InputError("settings", "must not be empty: enter at least one setting");
  return longest;
}

/**
 * The factor of an optical train from settings of its reticle on a certified stage micrometer, with its uncertainty.
 *
 * f = ΣL²/ΣLD · [1 + α(t − t₀)]·(1 + κ), µm/div, L the certified lengths (µm) and D the reticle intervals (div); for
 * equal spans L/mean D. u(f) by JCGM 100:2008 with the lines of `factorBudget`; the certificate counts as one scale
 * error with u_rel = u(L)/L of the longest interval and is never averaged down. One setting alone is allowed: its
 * repeatability is then zero and named as not known.
 * @throws InputError naming the setting or condition that is wrong
 */
export function calibrate(input: CalibrationInput): CalibrationResult {
  const { settings, scale, conditions, estimator, coverage } = input;
  requireCount("settings", settings, 1);
  if (settings.length > MOST_SETTINGS) throw new InputError("settings", `are more than ${MOST_SETTINGS}`);
  requireNotNegative("scale.expandedUncertainty", scale.expandedUncertainty);
  requirePositive("scale.coverageFactor", scale.coverageFactor);
  requireConditions(conditions);

  const intervals = settings.map((setting, i) => settingInterval(scale, setting, i));
  const pairs = settings.map((setting, i) => ({
    length: requirePositive(`settings.${i}.lineRight`, intervals[i]?.length ?? ZERO),
    divisions: setting.reticleRight.minus(setting.reticleLeft),
  }));
  const fit = originFit(pairs);
  const ratios = meanOfRatios(pairs);
  const reference = requireFinite("scale.referenceTemperature", scale.referenceTemperature ?? decimal(20));
  const rise = conditions.temperature.minus(reference);
  const conditioned = conditionFactor(conditions, rise);
  const originRegression = conditioned.div(fit.slope);
  const mean = ratios.mean.times(conditioned);
  const factor = estimator === "origin-regression" ? originRegression : mean;
  const { scatter, scatterDivisor } = scatterOf(pairs, fit, estimator);
  const longest = longestOf(intervals);
  const budget = closeBudget(
    factorBudget(
      {
        factor,
        longestLength: longest.length,
        certificateUncertainty: longest.standardUncertainty,
        certificateCoverage: scale.coverageFactor,
        settings: settings.length,
        scatter: scatter.times(conditioned),
        scatterDivisor,
        lever: leverInterval(pairs, estimator),
        rise,
      },
      conditions,
    ),
    coverage,
  );
  return {
    factor,
    originRegression,
    meanOfRatios: mean,
    ratioOfSums: ratioOfSums(pairs).times(conditioned),
    settings: pairs.map(
      (pair, i): SettingResult => ({
        interval: intervals[i] ?? longest,
        divisions: pair.divisions,
        ratio: pair.length.div(pair.divisions),
        residual: fit.residuals[i] ?? ZERO,
      }),
    ),
    residualDeviation: fit.residualDeviation,
    relativeDeviation: ratios.deviation ? ratios.deviation.div(ratios.mean) : null,
    span: pairs.reduce((most, pair) => Decimal.max(most, pair.divisions), ZERO),
    budget: budget.components,
    uncertainty: budget.uncertainty,
    commonUncertainty: classUncertainty(budget.components, "common"),
    occasionUncertainty: classUncertainty(budget.components, "occasion"),
  };
}
