import { type Decimal, PI, TWO } from "../quantity/decimal.ts";
import { InputError, requirePositive } from "../quantity/input-error.ts";
import type { Provenance } from "../vocabulary/provenance.ts";

/** A way to give an irregular particle one diameter; printed beside the results. */
export interface DiameterDefinition extends Provenance {
  readonly id: string;
  readonly name: string;
  readonly symbol: string;
  readonly definition: string;
}

const USP_776 = "USP <776> Optical Microscopy, particle size";

export const DIAMETER_DEFINITIONS: readonly DiameterDefinition[] = [
  {
    id: "feret",
    name: "Feret diameter",
    symbol: "d_F",
    definition:
      "distance between two parallel tangents to the outline, at right angles to the scale's direction",
    source: USP_776,
    standing: "from memory",
  },
  {
    id: "martin",
    name: "Martin diameter",
    symbol: "d_M",
    definition: "length of the chord parallel to the scale that halves the projected area",
    source: USP_776,
    standing: "from memory",
  },
  {
    id: "projected-area",
    name: "Projected-area diameter",
    symbol: "d_A",
    definition: "diameter of the circle with the projected area of the particle",
    source: USP_776,
    standing: "from memory",
  },
  {
    id: "length",
    name: "Length",
    symbol: "L",
    definition: "longest dimension parallel to the scale",
    source: USP_776,
    standing: "from memory",
  },
  {
    id: "width",
    name: "Width",
    symbol: "W",
    definition: "dimension at right angles to the length",
    source: USP_776,
    standing: "from memory",
  },
];

/** d_A = √(4A/π), µm from µm². @throws InputError when the area is not greater than zero */
export function projectedAreaDiameter(area: Decimal): Decimal {
  return requirePositive("area", area).times(4).div(PI).sqrt();
}

/**
 * Diameter of the n-th circle of a reticle whose circles grow by √2: D_n = unit·2^(n/2).
 * @param unit length L of the reticle's unit at the specimen, µm
 * @throws InputError when the unit is not greater than zero or n is not a whole number from 0
 */
export function rootTwoCircle(unit: Decimal, n: number): Decimal {
  requirePositive("unit", unit);
  if (!Number.isSafeInteger(n) || n < 0) throw new InputError("n", "must be a whole number, 0 or more");
  const whole = unit.times(TWO.pow(Math.floor(n / 2)));
  return n % 2 === 0 ? whole : whole.times(TWO.sqrt());
}
