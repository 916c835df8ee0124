import type { Decimal } from "../quantity/decimal.ts";
import type { BudgetComponent, Uncertainty } from "../uncertainty/uncertainty.ts";
import type { CoverageRule, FactorEstimator } from "../vocabulary/calibration.ts";
import type { CalculationRule } from "../vocabulary/rules.ts";
import type { CertifiedInterval, CertifiedScale } from "./certified-scale.ts";
import type { PooledRepeatability } from "./repeatability.ts";

/** One independent alignment of the reticle with the stage micrometer. */
export interface Setting {
  /** Reticle readings, divisions. */
  readonly reticleLeft: Decimal;
  readonly reticleRight: Decimal;
  /** Micrometer lines, as positions in µm (nominal). */
  readonly lineLeft: Decimal;
  readonly lineRight: Decimal;
}

/**
 * Everything beside the readings that enters the budget of a factor. All half-widths are of rectangular
 * distributions; zero leaves the component out. `DEFAULT_CONDITIONS` states the defaults and where each comes from.
 */
export interface CalibrationConditions {
  /** Micrometer temperature, °C, and the half-width of its doubt, K. */
  readonly temperature: Decimal;
  readonly temperatureHalfWidth: Decimal;
  /** Linear expansion of the micrometer's substrate, 1/K, and half-width. */
  readonly expansion: Decimal;
  readonly expansionHalfWidth: Decimal;
  /** Change of the micrometer since its certificate, half-width, µm. */
  readonly micrometerDriftHalfWidth: Decimal;
  /** Largest misalignment of the two scales, degrees. */
  readonly alignmentHalfAngle: Decimal;
  /** Field distortion and train (seating, person's settings) as relative half-widths. */
  readonly fieldDistortionHalfWidth: Decimal;
  readonly trainHalfWidth: Decimal;
  /** Relative doubt Δu/u of the train component; 0.2 gives ν = 12.5 (JCGM 100:2008 G.4.2). */
  readonly trainDoubt: Decimal;
  /** Smallest fraction of a division that is read, div. */
  readonly smallestFraction: Decimal;
}

export interface CalibrationInput {
  readonly settings: readonly Setting[];
  readonly scale: CertifiedScale;
  readonly conditions: CalibrationConditions;
  readonly estimator: FactorEstimator;
  readonly coverage: CoverageRule;
  /** How well one setting repeats, learnt before; the stated default when left out. Rule 1 does not use it. */
  readonly pooled?: PooledRepeatability;
  /** The rule in use when left out. */
  readonly rule?: CalculationRule;
}

export interface SettingResult {
  readonly interval: CertifiedInterval;
  /** Reticle interval read, div. */
  readonly divisions: Decimal;
  /** L/D of this setting alone at the certificate's temperature, µm/div. */
  readonly ratio: Decimal;
  /** divisions − b·L by the line through the origin, div. */
  readonly residual: Decimal;
}

/** The result of a calibration: the factor in µm per division and everything that led to it. */
export interface CalibrationResult {
  readonly factor: Decimal;
  /** By the other estimators, kept beside it; `factor` is the first or the second of these three. */
  readonly originRegression: Decimal;
  readonly meanOfRatios: Decimal;
  readonly ratioOfSums: Decimal;
  readonly settings: readonly SettingResult[];
  /** Standard deviation of the reticle readings about the fit, div; zero for a single setting. */
  readonly residualDeviation: Decimal;
  /** Relative standard deviation of the ratios, 1; null for a single setting. */
  readonly relativeDeviation: Decimal | null;
  /** Longest reticle interval used, div. */
  readonly span: Decimal;
  readonly budget: readonly BudgetComponent[];
  readonly uncertainty: Uncertainty;
  /** Parts of u(f) that are shared with, or independent of, another calibration from the same micrometer. */
  readonly commonUncertainty: Decimal;
  readonly occasionUncertainty: Decimal;
  readonly rule: CalculationRule;
  /** What was known of the scatter of one setting; null by rule 1. */
  readonly pooled: PooledRepeatability | null;
}
