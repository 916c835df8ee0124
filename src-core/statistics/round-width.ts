import { Decimal, decimal } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";

/** The width of the form 1, 2 or 5 times a power of ten that is nearest to `width` in ratio (common practice, no source). */
export function roundWidth(width: Decimal): Decimal {
  requirePositive("width", width);
  const power = decimal(10).pow(width.e);
  const lead = width.div(power);
  const step = [1, 2, 5, 10].reduce((best, candidate) => {
    const off = (of: number) => Decimal.max(lead.div(of), decimal(of).div(lead));
    return off(candidate).lessThan(off(best)) ? candidate : best;
  });
  return power.times(step);
}
