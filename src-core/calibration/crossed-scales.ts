import { type Decimal, PI } from "../quantity/decimal.ts";
import { requireNotNegative, requirePositive } from "../quantity/input-error.ts";

/** A factor with what its u shares with another calibration of the same train and micrometer, µm/div. */
export interface AxisFactor {
  readonly factor: Decimal;
  readonly commonUncertainty: Decimal;
  readonly occasionUncertainty: Decimal;
}

export interface AreaFactor {
  /** f_x·f_y, µm² per square division, and u of it. */
  readonly areaFactor: Decimal;
  readonly standardUncertainty: Decimal;
  /** f_y/f_x − 1: how far the two directions differ. */
  readonly anisotropy: Decimal;
  readonly anisotropyUncertainty: Decimal;
}

/**
 * Crossed scales and grids: the area factor from the factor along x and the one along y, calibrated apart. What both
 * share (certificate, drift, expansion) is counted once, fully correlated; it falls out of their ratio.
 * JCGM 100:2008 5.2.2 with r = 1 for the shared part.
 * @throws InputError `x.<key>` or `y.<key>`
 */
export function areaFactorOf(x: AxisFactor, y: AxisFactor): AreaFactor {
  const relative = (axis: "x" | "y", one: AxisFactor, key: "commonUncertainty" | "occasionUncertainty") =>
    requireNotNegative(`${axis}.${key}`, one[key]).div(requirePositive(`${axis}.factor`, one.factor));
  const commonX = relative("x", x, "commonUncertainty");
  const commonY = relative("y", y, "commonUncertainty");
  const own = relative("x", x, "occasionUncertainty")
    .pow(2)
    .plus(relative("y", y, "occasionUncertainty").pow(2));
  const areaFactor = x.factor.times(y.factor);
  const ratio = y.factor.div(x.factor);
  return {
    areaFactor,
    standardUncertainty: areaFactor.times(own.plus(commonX.plus(commonY).pow(2)).sqrt()),
    anisotropy: ratio.minus(1),
    anisotropyUncertainty: ratio.times(own.plus(commonY.minus(commonX).pow(2)).sqrt()),
  };
}

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

/** Area of an ellipse seen as n_x by n_y divisions (a round graticule when both factors agree), µm². */
export function ellipseArea(columns: Decimal, rows: Decimal, areaFactor: Decimal): Decimal {
  return gridArea(columns, rows, areaFactor).times(PI).div(4);
}
