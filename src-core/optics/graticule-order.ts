import type { Decimal } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";

/**
 * Diameter to which a counting circle must be made for one microscope and person: d_c = (L_a/L_o)·D, with L_o the
 * apparent length of any graticule at the specimen (µm), L_a its real length (mm) and D the circle wanted at the
 * specimen (µm). Result in mm. NIOSH 7400 (issue 2) Appendix A, from memory.
 * @throws InputError naming the length that is not greater than zero
 */
export function graticuleCircleMm(
  realLengthMm: Decimal,
  apparentLengthUm: Decimal,
  wantedDiameterUm: Decimal,
): Decimal {
  const real = requirePositive("realLengthMm", realLengthMm);
  const apparent = requirePositive("apparentLengthUm", apparentLengthUm);
  return real.div(apparent).times(requirePositive("wantedDiameterUm", wantedDiameterUm));
}
