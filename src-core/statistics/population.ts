import { type Decimal, decimal, rootSumOfSquares, ZERO } from "../quantity/decimal.ts";
import { requireFinite, requireNotNegative } from "../quantity/input-error.ts";
import { requireWhole } from "./sample.ts";

export interface MeanUncertainty {
  /** s/√n: shrinks with more specimens. */
  readonly sampling: Decimal;
  /** |x̄|·u_rel(f): the factor is common to all specimens, so it never shrinks. */
  readonly factor: Decimal;
  /** The edge convention, common too. */
  readonly edge: Decimal;
  readonly combined: Decimal;
}

/**
 * Uncertainty of the mean of a sample as a length: √(s²/n + (x̄·u_rel(f))² + u_e²). Components that are common to all
 * readings are not averaged down (JCGM 100:2008 F.1.2.3).
 * @param factorRelative relative standard uncertainty of the factor
 * @param edge standard uncertainty of the edge convention, unit of the mean
 */
export function uncertaintyOfMean(
  n: number,
  mean: Decimal,
  deviation: Decimal,
  factorRelative: Decimal,
  edge: Decimal,
): MeanUncertainty {
  requireWhole("n", n, 1);
  requireFinite("mean", mean);
  requireNotNegative("deviation", deviation);
  requireNotNegative("factorRelative", factorRelative);
  requireNotNegative("edge", edge);
  const sampling = deviation.div(decimal(n).sqrt());
  const factor = mean.abs().times(factorRelative);
  return { sampling, factor, edge, combined: rootSumOfSquares([sampling, factor, edge]) };
}

/**
 * Spread of the specimens themselves: √(s² − u_rand²), with the random reading part of one specimen taken out; zero
 * when reading alone explains the scatter.
 */
export function trueSpread(deviation: Decimal, readingRandom: Decimal): Decimal {
  requireNotNegative("deviation", deviation);
  requireNotNegative("readingRandom", readingRandom);
  const left = deviation.pow(2).minus(readingRandom.pow(2));
  return left.greaterThan(0) ? left.sqrt() : ZERO;
}
