import type { Decimal } from "../quantity/decimal.ts";
import { requireNotNegative, requirePositive } from "../quantity/input-error.ts";

/**
 * The area factor of one scale used in both directions: f², u = 2f·u(f); the factor enters twice and is one error.
 * @throws InputError `factor` or `standardUncertainty`
 */
export function squaredFactor(
  factor: Decimal,
  standardUncertainty: Decimal,
): { areaFactor: Decimal; standardUncertainty: Decimal } {
  requirePositive("factor", factor);
  requireNotNegative("standardUncertainty", standardUncertainty);
  return {
    areaFactor: factor.pow(2),
    standardUncertainty: factor.times(2).times(standardUncertainty),
  };
}

/** Area of a grid of n_x by n_y divisions, µm². @throws InputError naming the side */
export function gridArea(columns: Decimal, rows: Decimal, areaFactor: Decimal): Decimal {
  requirePositive("columns", columns);
  requirePositive("rows", rows);
  return columns.times(rows).times(requirePositive("areaFactor", areaFactor));
}
