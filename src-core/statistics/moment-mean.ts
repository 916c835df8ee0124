import { type Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { InputError, requirePositive } from "../quantity/input-error.ts";
import { requireSample, requireWhole } from "./sample.ts";

function powerSum(diameters: readonly Decimal[], k: number): Decimal {
  return diameters.reduce((sum, diameter) => sum.plus(diameter.pow(k)), ZERO);
}

/**
 * Moment-ratio mean D[p,q] = (Σd^p/Σd^q)^(1/(p−q)), in the unit of the diameters (ISO 9276-2:2014, moment-ratio
 * notation: from memory). D[1,0]: arithmetic; D[2,0]: of surface; D[3,0]: of volume; D[3,2]: Sauter; D[4,3]:
 * volume-weighted. It takes every particle for a sphere of its measured diameter.
 * @throws InputError when the list is empty, a diameter is not positive, or p and q are not whole with p > q ≥ 0
 */
export function momentMean(diameters: readonly Decimal[], p: number, q: number): Decimal {
  requireSample("diameters", diameters, 1);
  diameters.forEach((diameter, index) => {
    requirePositive(`diameters.${index}`, diameter);
  });
  requireWhole("q", q, 0);
  requireWhole("p", p, 0);
  if (p <= q) throw new InputError("p", "must be greater than q");
  const ratio = powerSum(diameters, p).div(powerSum(diameters, q));
  const order = p - q;
  if (order === 1) return ratio;
  return order === 2 ? ratio.sqrt() : ratio.pow(decimal(1).div(order));
}
