import type { FactorInForce } from "../../measurement/size.ts";
import { type Decimal, PI } from "../../quantity/decimal.ts";
import { InputError, requireNotNegative, requirePositive } from "../../quantity/input-error.ts";
import {
  exactly,
  powerOf,
  productOf,
  scaledBy,
  type UncertainProduct,
} from "../../quantity/uncertain-product.ts";

/** A reading of the counting area in divisions, with the standard uncertainty of that reading. */
export interface AreaReading {
  readonly divisions: Decimal;
  readonly standardUncertainty: Decimal;
}

/** The calibrated factor, µm/div, and u(f). */
export type AreaFactor = Pick<FactorInForce, "factor" | "standardUncertainty">;

/**
 * A length at the specimen, mm, from divisions. It carries two doubts, the factor's and this reading's, each by its own
 * key, so that an area counts the one factor once, squared.
 */
export function calibratedLength(field: string, reading: AreaReading, factor: AreaFactor): UncertainProduct {
  requirePositive(`${field}.divisions`, reading.divisions);
  requireNotNegative(`${field}.standardUncertainty`, reading.standardUncertainty);
  requirePositive("factor", factor.factor);
  requireNotNegative("factor.standardUncertainty", factor.standardUncertainty);
  return {
    value: reading.divisions.times(factor.factor).div(1000),
    unit: "mm",
    components: [
      { key: "factor", name: "calibration factor", relative: factor.standardUncertainty.div(factor.factor) },
      {
        key: `reading-${field}`,
        name: `reading of the ${field}`,
        relative: reading.standardUncertainty.div(reading.divisions),
      },
    ],
  };
}

/** π/4·(D·f)², mm². u(A)/A = √((2u(f)/f)² + (2u(D)/D)²). */
export function circleArea(diameter: AreaReading, factor: AreaFactor): UncertainProduct {
  return scaledBy(powerOf(calibratedLength("diameter", diameter, factor), 2, "mm²"), PI.div(4), "mm²");
}

/** (a·f)², mm², of a square grid. */
export function squareArea(side: AreaReading, factor: AreaFactor): UncertainProduct {
  return powerOf(calibratedLength("side", side, factor), 2, "mm²");
}

/** (a·f)·(b·f), mm²: two readings, one factor. */
export function rectangleArea(width: AreaReading, height: AreaReading, factor: AreaFactor): UncertainProduct {
  return productOf(
    calibratedLength("width", width, factor),
    calibratedLength("height", height, factor),
    "mm²",
  );
}

/** Strips across a chamber, mm²: a calibrated width times the chamber's own length, so the factor enters once. */
export function stripArea(
  width: UncertainProduct,
  length: UncertainProduct,
  strips: number,
): UncertainProduct {
  return repeated(productOf(width, length, "mm²"), "strips", strips);
}

/** The area of n fields or strips of one size. @throws InputError when n is not a whole number from 1 */
export function repeated(area: UncertainProduct, field: string, times: number): UncertainProduct {
  if (!Number.isSafeInteger(times) || times < 1)
    throw new InputError(field, "must be a whole number, 1 or more");
  return scaledBy(area, String(times), area.unit);
}

/** A nominal area without a calibration, e.g. 0.00785 mm² of a Walton–Beckett graticule; no doubt is known. */
export function nominalArea(squareMillimetres: string): UncertainProduct {
  return exactly("area", squareMillimetres, "mm²");
}
