import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requirePositive } from "../quantity/input-error.ts";

/** Green light, µm. */
export const DEFAULT_WAVELENGTH_UM: Decimal = decimal("0.55");

/** An object shorter than this many resolution limits carries an edge error of about 10 % or more. Common practice. */
export const LEAST_RESOLUTION_LIMITS = 10;

/**
 * Smallest distance of two points seen apart in incoherent light, µm: 0.61·λ/NA (Rayleigh's criterion, any textbook of
 * optics).
 * @param na numerical aperture; @param wavelengthUm λ, µm
 * @throws InputError `numericalAperture` or `wavelengthUm`
 */
export function resolutionLimitUm(na: Decimal, wavelengthUm: Decimal = DEFAULT_WAVELENGTH_UM): Decimal {
  requirePositive("numericalAperture", na);
  if (na.greaterThan(2)) {
    throw new InputError("numericalAperture", "is greater than any objective's: at most about 1.7");
  }
  return requirePositive("wavelengthUm", wavelengthUm).times("0.61").div(na);
}
