import { type Decimal, sumOf, ZERO } from "../quantity/decimal.ts";
import type { FactorEstimator } from "../vocabulary/calibration.ts";

/** Certified length (µm) and reticle interval (div) of one setting, both greater than zero. */
export interface SettingPair {
  readonly length: Decimal;
  readonly divisions: Decimal;
}

/** The straight line through the origin D = b·L and what follows from it. */
export interface OriginFit {
  /** b, div/µm. */
  readonly slope: Decimal;
  /** D − b·L, div. */
  readonly residuals: readonly Decimal[];
  /** Standard deviation of the residuals, n − 1 degrees of freedom, div; 0 for one setting. */
  readonly residualDeviation: Decimal;
  /** Standard deviation of b, div/µm; 0 for one setting. */
  readonly slopeDeviation: Decimal;
}

/**
 * Least squares of reticle readings D on certified lengths L through the origin: b = ΣLD/ΣL², s² = Σ(D − bL)²/(n − 1),
 * s_b = s/√ΣL². The reading error sits in D, the lengths are certified, so D is regressed on L and the factor is 1/b.
 * Checked against NIST StRD NoInt1 and NoInt2.
 */
export function originFit(pairs: readonly SettingPair[]): OriginFit {
  const squares = sumOf(pairs.map((pair) => pair.length.times(pair.length)));
  const slope = sumOf(pairs.map((pair) => pair.length.times(pair.divisions))).div(squares);
  const residuals = pairs.map((pair) => pair.divisions.minus(slope.times(pair.length)));
  const n = pairs.length;
  const residualDeviation =
    n < 2
      ? ZERO
      : sumOf(residuals.map((one) => one.times(one)))
          .div(n - 1)
          .sqrt();
  return { slope, residuals, residualDeviation, slopeDeviation: residualDeviation.div(squares.sqrt()) };
}

/** Mean of L/D, and its standard deviation with n − 1 (null for one setting), µm/div. */
export function meanOfRatios(pairs: readonly SettingPair[]): { mean: Decimal; deviation: Decimal | null } {
  const ratios = pairs.map((pair) => pair.length.div(pair.divisions));
  const n = ratios.length;
  const mean = sumOf(ratios).div(n);
  if (n < 2) return { mean, deviation: null };
  const squares = sumOf(ratios.map((ratio) => ratio.minus(mean).pow(2)));
  return { mean, deviation: squares.div(n - 1).sqrt() };
}

/** ΣL/ΣD, µm/div: the third estimate some procedures use. */
export function ratioOfSums(pairs: readonly SettingPair[]): Decimal {
  return sumOf(pairs.map((pair) => pair.length)).div(sumOf(pairs.map((pair) => pair.divisions)));
}

/**
 * The reticle interval D₀ for which a shift common to all settings, as of the reading at one end, changes the factor by
 * −f/D₀ per division. For equal spans it is their mean.
 */
export function leverInterval(pairs: readonly SettingPair[], estimator: FactorEstimator): Decimal {
  if (estimator === "origin-regression") {
    const lengths = sumOf(pairs.map((pair) => pair.length));
    return sumOf(pairs.map((pair) => pair.length.times(pair.divisions))).div(lengths);
  }
  const { mean } = meanOfRatios(pairs);
  const slopes = sumOf(pairs.map((pair) => pair.length.div(pair.divisions.pow(2)))).div(pairs.length);
  return mean.div(slopes);
}
