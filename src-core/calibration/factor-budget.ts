import type { Decimal } from "../quantity/decimal.ts";
import type { BudgetEntry } from "../uncertainty/budget.ts";
import {
  cosineTerm,
  degreesOfJudgedUncertainty,
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
  /** ∂f/∂L of an error common to the certified lengths of all settings. */
  readonly perLength: Decimal;
  /** The length error of `perLength`: u by the certificate and of lines between certified ones, µm. */
  readonly certificate: Decimal;
  readonly certificateCoverage: Decimal;
  /** null: infinite. */
  readonly certificateDegrees: Decimal | null;
  /** Null under rule 1, whose `certificate` includes it. */
  readonly interpolation: Decimal | null;
  readonly repeatability: RepeatabilityLine;
  /** Reticle interval D₀ with ∂f/∂D = −f/D₀. */
  readonly lever: Decimal;
  /** t − t₀, K: how much warmer the micrometer was than its certified values. */
  readonly rise: Decimal;
}

/** The scatter of the settings as a line of the budget. */
export interface RepeatabilityLine {
  readonly name: string;
  /** Of the reticle interval D₀ that the settings together stand for, div. */
  readonly standardUncertainty: Decimal;
  /** By what s of one setting was divided to get there: √n for equal spans. */
  readonly divisor: Decimal;
  readonly degreesOfFreedom: Decimal | null;
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
  const { perLength } = input;
  const perDivision = factor.div(input.lever).negated();
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
      standardUncertainty: input.certificate,
      unit: "µm",
      divisor: input.certificateCoverage,
      sensitivity: perLength,
      degreesOfFreedom: input.certificateDegrees,
      class: "common",
    },
    ...(input.interpolation === null
      ? []
      : [
          {
            key: "interpolation",
            name: "Lines between certified ones",
            ...halfWidth,
            standardUncertainty: input.interpolation,
            unit: "µm",
            sensitivity: perLength,
            degreesOfFreedom: null,
            class: "common",
          } as const,
        ]),
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
      degreesOfFreedom: conditions.trainHalfWidth.isZero()
        ? null
        : degreesOfJudgedUncertainty(conditions.trainDoubt),
      class: "occasion",
    },
    {
      key: "repeatability",
      ...input.repeatability,
      distribution: "t",
      unit: "div",
      sensitivity: perDivision,
      class: "occasion",
    },
    { key: "reading-left", name: "Reading at the left end", ...reading },
    { key: "reading-right", name: "Reading at the right end", ...reading },
  ];
}
