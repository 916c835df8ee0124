import type { Decimal } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";

/**
 * Decimal places of a size in µm where no uncertainty sets them: 1 µm up to 10×, 0.1 µm above. Common practice, no
 * source; with an uncertainty the place of U decides (JCGM 100:2008 7.2.6).
 */
export function shownPlaces(magnification: Decimal): 0 | 1 {
  return requirePositive("magnification", magnification).greaterThan(10) ? 1 : 0;
}
