import { calibrate } from "../calibration/calibrate.ts";
import type { CalibrationConditions, CalibrationResult } from "../calibration/calibration.ts";
import type { ReadingConditions } from "../measurement/size.ts";
import { decimal, ZERO } from "../quantity/decimal.ts";
import type { CoverageRule, FactorEstimator } from "../vocabulary/calibration.ts";

/** Every input of a factor's budget set to zero, at 20 °C. */
export const NOTHING_DOUBTED: CalibrationConditions = {
  temperature: decimal(20),
  temperatureHalfWidth: ZERO,
  expansion: ZERO,
  expansionHalfWidth: ZERO,
  micrometerDriftHalfWidth: ZERO,
  alignmentHalfAngle: ZERO,
  fieldDistortionHalfWidth: ZERO,
  trainHalfWidth: ZERO,
  trainDoubt: ZERO,
  smallestFraction: ZERO,
};

/** Every input of a size's budget set to zero. */
export const READ_WITHOUT_DOUBT: ReadingConditions = {
  smallestFraction: ZERO,
  repeatability: ZERO,
  repeatabilityDegreesOfFreedom: null,
  alignmentHalfAngle: ZERO,
  ends: "points",
  edgeHalfWidth: ZERO,
  edgeDegreesOfFreedom: null,
  edgeKind: "none",
};

export interface PlainCalibration {
  /** Certified lengths, µm, and reticle intervals, div, of the settings; every interval starts at 0. */
  readonly lengths: readonly string[];
  readonly divisions: readonly string[];
  readonly expandedUncertainty?: string;
  readonly conditions?: Partial<CalibrationConditions>;
  readonly estimator?: FactorEstimator;
  readonly coverage?: CoverageRule;
}

/** A calibration on a micrometer whose lines lie exactly at the lengths given, for checks by hand. */
export function plainCalibration(plain: PlainCalibration): CalibrationResult {
  const positions = [...new Set(["0", ...plain.lengths])].map(decimal).sort((a, b) => a.comparedTo(b));
  return calibrate({
    settings: plain.lengths.map((length, i) => ({
      reticleLeft: ZERO,
      reticleRight: decimal(plain.divisions[i] ?? "0"),
      lineLeft: ZERO,
      lineRight: decimal(length),
    })),
    scale: {
      lines: positions.map((nominal) => ({ nominal, error: ZERO })),
      expandedUncertainty: decimal(plain.expandedUncertainty ?? "0"),
      coverageFactor: decimal(2),
    },
    conditions: { ...NOTHING_DOUBTED, ...plain.conditions },
    estimator: plain.estimator ?? "origin-regression",
    coverage: plain.coverage ?? "t95",
  });
}
