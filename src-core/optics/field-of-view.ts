import { type Decimal, PI } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";

/** A circle seen or counted at the specimen. */
export interface FieldOfView {
  readonly diameterMm: Decimal;
  readonly areaMm2: Decimal;
}

/** Area of a circle, in the square of the diameter's unit: π/4·d². */
export function circleArea(diameter: Decimal): Decimal {
  return PI.div(4).times(requirePositive("diameter", diameter).pow(2));
}

/**
 * Field of view from the eyepiece's field number: FN/(objective × intermediate magnification), mm; the eyepiece's own
 * power does not enter. An estimate: a field measured with the reticle or stage micrometer is better.
 * @throws InputError naming the input that is not greater than zero
 */
export function fieldOfView(fieldNumber: Decimal, objective: Decimal, intermediate: Decimal): FieldOfView {
  const total = requirePositive("objective", objective).times(requirePositive("intermediate", intermediate));
  const diameterMm = requirePositive("fieldNumber", fieldNumber).div(total);
  return { diameterMm, areaMm2: circleArea(diameterMm) };
}

/**
 * Field or graticule circle measured in divisions: diameter n·f, area π/4·(n·f)².
 * @param divisions diameter, div; @param factor µm/div, with all its digits
 */
export function measuredCircle(divisions: Decimal, factor: Decimal): FieldOfView {
  const diameterUm = requirePositive("divisions", divisions).times(requirePositive("factor", factor));
  const diameterMm = diameterUm.div(1000);
  return { diameterMm, areaMm2: circleArea(diameterMm) };
}
