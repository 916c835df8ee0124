import { Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import {
  InputError,
  requireCount,
  requireFinite,
  requireNotNegative,
  requirePositive,
} from "../quantity/input-error.ts";
import { classUncertainty, closeBudget } from "../uncertainty/budget.ts";
import { cosineTerm } from "../uncertainty/type-b.ts";
import { CALCULATION_RULE } from "../vocabulary/rules.ts";
import type {
  CalibrationConditions,
  CalibrationInput,
  CalibrationResult,
  SettingResult,
} from "./calibration.ts";
import { requireConditions } from "./conditions.ts";
import { factorBudget } from "./factor-budget.ts";
import { leverInterval, meanOfRatios, originFit, ratioOfSums } from "./factor-estimate.ts";
import { lengthPart } from "./length-part.ts";
import { DEFAULT_REPEATABILITY } from "./repeatability.ts";
import { repeatabilityLine } from "./repeatability-line.ts";
import { settingInterval } from "./setting-interval.ts";

/** More settings than a person can take at one sitting. */
const MOST_SETTINGS = 10_000;

/** [1 + α(t − t₀)]·(1 + E κ): from certified lengths at t₀, mostly 20 °C, to the lengths the reticle saw. */
function conditionFactor(conditions: CalibrationConditions, rise: Decimal): Decimal {
  const growth = conditions.expansion.times(rise).plus(1);
  return growth.times(cosineTerm(conditions.alignmentHalfAngle).mean.plus(1));
}

/**
 * The factor of an optical train from settings of its reticle on a certified stage micrometer, with its uncertainty.
 *
 * f = ΣL²/ΣLD · [1 + α(t − t₀)]·(1 + κ), µm/div, L the certified lengths (µm) and D the reticle intervals (div); for
 * equal spans L/mean D. u(f) by JCGM 100:2008 with the lines of `factorBudget`; the certificate's part is common to all
 * settings and never averaged down. One setting alone is allowed: its repeatability is then the pooled one.
 * @throws InputError naming the setting or condition that is wrong
 */
export function calibrate(input: CalibrationInput): CalibrationResult {
  const { settings, scale, conditions, estimator, coverage } = input;
  requireCount("settings", settings, 1);
  if (settings.length > MOST_SETTINGS) throw new InputError("settings", `are more than ${MOST_SETTINGS}`);
  requireNotNegative("scale.expandedUncertainty", scale.expandedUncertainty);
  requirePositive("scale.coverageFactor", scale.coverageFactor);
  if (scale.degreesOfFreedom) requirePositive("scale.degreesOfFreedom", scale.degreesOfFreedom);
  if (scale.uncertaintyPerUm) requireNotNegative("scale.uncertaintyPerUm", scale.uncertaintyPerUm);
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
  const lever = leverInterval(pairs, estimator);
  const rule = input.rule ?? CALCULATION_RULE;
  const pooled = input.pooled ?? DEFAULT_REPEATABILITY;
  const budget = closeBudget(
    factorBudget(
      {
        factor,
        ...lengthPart(rule, intervals, estimator, factor),
        certificateCoverage: scale.coverageFactor,
        certificateDegrees: scale.degreesOfFreedom ?? null,
        repeatability: repeatabilityLine(rule, { pairs, fit, estimator, factor, conditioned, lever }, pooled),
        lever,
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
    settings: intervals.map((interval, i): SettingResult => {
      const divisions = pairs[i]?.divisions ?? ZERO;
      return {
        interval,
        divisions,
        ratio: interval.length.div(divisions),
        residual: fit.residuals[i] ?? ZERO,
      };
    }),
    residualDeviation: fit.residualDeviation,
    relativeDeviation: ratios.deviation ? ratios.deviation.div(ratios.mean) : null,
    span: pairs.reduce((most, pair) => Decimal.max(most, pair.divisions), ZERO),
    budget: budget.components,
    uncertainty: budget.uncertainty,
    commonUncertainty: classUncertainty(budget.components, "common"),
    occasionUncertainty: classUncertainty(budget.components, "occasion"),
    rule,
    pooled: rule === 1 ? null : pooled,
  };
}
