import type { Decimal } from "../quantity/decimal.ts";
import type { CertifiedInterval, CertifiedScale } from "./certified-scale.ts";

/** One independent alignment of the reticle with the stage micrometer. */
export interface Setting {
  /** Reticle readings, divisions. */
  readonly reticleLeft: Decimal;
  readonly reticleRight: Decimal;
  /** Micrometer lines, as positions in µm (nominal). */
  readonly lineLeft: Decimal;
  readonly lineRight: Decimal;
}

export const FACTOR_ESTIMATORS = ["origin-regression", "mean-of-ratios"] as const;
export type FactorEstimator = (typeof FACTOR_ESTIMATORS)[number];

export const COVERAGE_RULES = ["t95", "k2"] as const;
/** `t95`: Student's t for 95 % at ν_eff truncated (JCGM 100:2008 G.4.1, G.6.4); `k2`: k = 2. */
export type CoverageRule = (typeof COVERAGE_RULES)[number];

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
}

/**
 * `common`: shared by calibrations of one train from the same micrometer (certificate, its drift and expansion, the
 * train's distortion); `occasion`: fresh each time (JCGM 100:2008 F.1.2.3).
 */
export type ComponentClass = "common" | "occasion";

export interface BudgetComponent {
  /** Stable key: certificate, drift, expansion, temperature, alignment, field, train, repeatability, reading-left, reading-right. */
  readonly key: string;
  /** Words for a person. */
  readonly name: string;
  readonly distribution: "normal" | "rectangular" | "skewed" | "t";
  /** Standard uncertainty of the input, in `unit`. */
  readonly standardUncertainty: Decimal;
  readonly unit: string;
  /** What the half-width or U was divided by. */
  readonly divisor: Decimal;
  /** ∂result/∂input. */
  readonly sensitivity: Decimal;
  /** |sensitivity · standardUncertainty|, in the unit of the result. */
  readonly contribution: Decimal;
  /** null: infinite. */
  readonly degreesOfFreedom: Decimal | null;
  /** Share of u_c², 0…1. */
  readonly share: Decimal;
  readonly class: ComponentClass;
}

export interface Uncertainty {
  readonly standard: Decimal;
  /** Welch–Satterthwaite, not truncated; null: infinite. */
  readonly degreesOfFreedom: Decimal | null;
  readonly coverageFactor: Decimal;
  readonly expanded: Decimal;
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
}
