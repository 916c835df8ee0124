import { type Decimal, ZERO } from "../quantity/decimal.ts";
import { requireNotNegative, requirePositive } from "../quantity/input-error.ts";

/**
 * Least divisions an object should span so that the reading alone stays within ±p % at k = 2: N = 2u·100/p.
 * @param readingUncertainty u of one pair of readings, div; @param percent p
 * @throws InputError `readingUncertainty` or `percent`
 */
export function divisionsNeeded(readingUncertainty: Decimal, percent: Decimal): Decimal {
  requireNotNegative("readingUncertainty", readingUncertainty);
  return readingUncertainty.times(200).div(requirePositive("percent", percent));
}

/**
 * u of one pair of readings, div: repeatability and the estimation r/√12 at both ends, √(s² + r²/6).
 * Resolution by JCGM 100:2008 F.2.2.1.
 */
export function readingPairUncertainty(smallestFraction: Decimal, repeatability: Decimal = ZERO): Decimal {
  const step = requireNotNegative("smallestFraction", smallestFraction);
  const spread = requireNotNegative("repeatability", repeatability);
  return spread.times(spread).plus(step.times(step).div(6)).sqrt();
}
