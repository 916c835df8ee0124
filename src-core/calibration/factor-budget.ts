import { type Decimal, decimal, ONE, ZERO } from "../quantity/decimal.ts";
import type { BudgetEntry } from "../uncertainty/budget.ts";
import {
  cosineTerm,
  degreesFromDoubt,
  fromResolution,
  ROOT_3,
  ROOT_12,
  ROOT_45,
  rectangular,
} from "../uncertainty/type-b.ts";
import type { CalibrationConditions } from "./calibration.ts";

/** What the budget of a factor needs beside the conditions; µm, div and µm/div. */
export interface FactorBudgetInput {
  readonly factor: Decimal;
  /** Longest certified interval used and u of it: the certificate acts as one scale error on all settings. */
  readonly longestLength: Decimal;
  readonly certificateUncertainty: Decimal;
  readonly certificateCoverage: Decimal;
  readonly settings: number;
  /** Standard deviation of the factor from the scatter of the settings alone. */
  readonly scatter: Decimal;
  /** By what the standard deviation of one setting was divided to get there: √n for equal spans. */
  readonly scatterDivisor: Decimal;
  /** Reticle interval D₀ with ∂f/∂D = −f/D₀. */
  readonly lever: Decimal;
  /** t − t₀, K: how much warmer the micrometer was than its certified values. */
  readonly rise: Decimal;
}

/**
 * The lines of the budget of f = (L + C + δ)·[1 + α(t − t₀)]·(1 + κ)·(1 + ε_d)·(1 + ε_t)/(D + q_L + q_R), by
 * JCGM 100:2008 5.1 and 4.3.7. The certificate and the reading at either end are common to all settings and are not
 * divided by √n; only the scatter is. A line set to zero stays in the list, so that a reader sees that it was.
 */
export function factorBudget(input: FactorBudgetInput, conditions: CalibrationConditions): BudgetEntry[] {
  const { factor, rise } = input;
  const growth = conditions.expansion.times(rise).plus(1);
  const cosine = cosineTerm(conditions.alignmentHalfAngle);
  const perLength = factor.div(input.longestLength);
  const perDivision = factor.div(input.lever).negated();
  const single = input.settings < 2;
  const reading = {
    distribution: "rectangular",
    standardUncertainty: fromResolution(conditions.smallestFraction),
    unit: "div",
    divisor: ROOT_12,
    sensitivity: perDivision,
    degreesOfFreedom: null,
    class: "occasion",
  } as const;
  const halfWidth = { distribution: "rectangular", divisor: ROOT_3 } as const;
  return [
    {
      key: "certificate",
      name: "Certified length of the stage micrometer",
      distribution: "normal",
      standardUncertainty: input.certificateUncertainty,
      unit: "µm",
      divisor: input.certificateCoverage,
      sensitivity: perLength,
      degreesOfFreedom: null,
      class: "common",
    },
    {
      key: "drift",
      name: "Change of the stage micrometer since its certificate",
      ...halfWidth,
      standardUncertainty: rectangular(conditions.micrometerDriftHalfWidth),
      unit: "µm",
      sensitivity: perLength,
      degreesOfFreedom: null,
      class: "common",
    },
    {
      key: "expansion",
      name: "Thermal expansion of the micrometer's glass",
      ...halfWidth,
      standardUncertainty: rectangular(conditions.expansionHalfWidth),
      unit: "1/K",
      sensitivity: factor.times(rise).div(growth),
      degreesOfFreedom: null,
      class: "common",
    },
    {
      key: "temperature",
      name: "Temperature of the stage micrometer",
      ...halfWidth,
      standardUncertainty: rectangular(conditions.temperatureHalfWidth),
      unit: "K",
      sensitivity: factor.times(conditions.expansion).div(growth),
      degreesOfFreedom: null,
      class: "occasion",
    },
    {
      key: "alignment",
      name: "Angle between reticle and micrometer",
      distribution: "skewed",
      standardUncertainty: cosine.standardUncertainty,
      unit: "1",
      divisor: ROOT_45,
      sensitivity: factor.div(cosine.mean.plus(1)),
      degreesOfFreedom: null,
      class: "occasion",
    },
    {
      key: "field",
      name: "Distortion over the field",
      ...halfWidth,
      standardUncertainty: rectangular(conditions.fieldDistortionHalfWidth),
      unit: "1",
      sensitivity: factor,
      degreesOfFreedom: null,
      // The same train has the same distortion each time it is calibrated.
      class: "common",
    },
    {
      key: "train",
      name: "Seating, tube length and person's settings",
      ...halfWidth,
      standardUncertainty: rectangular(conditions.trainHalfWidth),
      unit: "1",
      sensitivity: factor,
      degreesOfFreedom: conditions.trainHalfWidth.isZero() ? null : degreesFromDoubt(conditions.trainDoubt),
      class: "occasion",
    },
    {
      key: "repeatability",
      name: single ? "Repeatability (one setting only: not known)" : "Repeatability of the settings",
      distribution: "t",
      standardUncertainty: single ? ZERO : input.scatter.div(factor).times(input.lever),
      unit: "div",
      divisor: single ? ONE : input.scatterDivisor,
      sensitivity: perDivision,
      degreesOfFreedom: single ? null : decimal(input.settings - 1),
      class: "occasion",
    },
    { key: "reading-left", name: "Reading at the left end", ...reading },
    { key: "reading-right", name: "Reading at the right end", ...reading },
  ];
}
