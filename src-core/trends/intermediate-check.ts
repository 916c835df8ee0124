import { type Decimal, rootSumOfSquares, TWO } from "../quantity/decimal.ts";
import { requireNotNegative, requirePositive } from "../quantity/input-error.ts";

export interface CheckVerdict {
  /** checked − calibrated. */
  readonly difference: Decimal;
  /** Largest |difference| that the two occasions explain. */
  readonly limit: Decimal;
  /** |difference|/limit; above 1 the check fails. Null when both occasions are taken for exact. */
  readonly ratio: Decimal | null;
  readonly passed: boolean;
}

/**
 * Quick check of a factor between calibrations: |f_check − f_cal| ≤ 2·√(u_occ,cal² + u_occ,check²). Only what is fresh on
 * each occasion counts: the micrometer's own error is in both and cancels (the criterion of ISO 13528, E_n ≤ 1 with
 * k = 2, without the common part).
 * @throws InputError when a factor is not positive or an uncertainty negative
 */
export function intermediateCheck(
  calibrated: Decimal,
  calibratedOccasion: Decimal,
  checked: Decimal,
  checkedOccasion: Decimal,
): CheckVerdict {
  requirePositive("calibrated", calibrated);
  requirePositive("checked", checked);
  requireNotNegative("calibratedOccasion", calibratedOccasion);
  requireNotNegative("checkedOccasion", checkedOccasion);
  const difference = checked.minus(calibrated);
  const limit = TWO.times(rootSumOfSquares([calibratedOccasion, checkedOccasion]));
  return {
    difference,
    limit,
    ratio: limit.isZero() ? null : difference.abs().div(limit),
    passed: !difference.abs().greaterThan(limit),
  };
}
