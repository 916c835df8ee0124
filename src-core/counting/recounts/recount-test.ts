import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { requireNotNegative, requirePositive } from "../../quantity/input-error.ts";

export interface RecountResult {
  /** |√X₁ − √X₂|. */
  readonly difference: Decimal;
  /** 2.77 · mean of the roots · S_r/2. */
  readonly limit: Decimal;
  readonly accepted: boolean;
}

/**
 * Acceptance of a blind recount: the pair is rejected when |√X₁ − √X₂| > 2.77·X̄·S′r, X̄ the mean of the two roots and
 * S′r half the laboratory's own intracounter relative standard deviation for that range of counts. NIOSH 7400, quality
 * control step 13; from memory.
 * @param first,second densities, fibres/mm²
 * @throws InputError when a density is negative or Sr is not greater than zero
 */
export function recountTest(first: Decimal, second: Decimal, intracounterDeviation: Decimal): RecountResult {
  const firstRoot = requireNotNegative("first", first).sqrt();
  const secondRoot = requireNotNegative("second", second).sqrt();
  requirePositive("intracounterDeviation", intracounterDeviation);
  const difference = firstRoot.minus(secondRoot).abs();
  const meanRoot = firstRoot.plus(secondRoot).div(2);
  const limit = decimal("2.77").times(meanRoot).times(intracounterDeviation).div(2);
  return { difference, limit, accepted: difference.lessThanOrEqualTo(limit) };
}
