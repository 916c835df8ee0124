import { productOf, scaledBy, type UncertainProduct } from "../../quantity/uncertain-product.ts";

/**
 * Biovolume of a taxon in water, mm³/L, from cells/mL and µm³/cell: their product times 10⁻⁶. When both carry the same
 * calibration factor it is counted once: −2 from the field area and +3 from the volume leave +1.
 */
export function biovolumePerLitre(
  cellsPerMillilitre: UncertainProduct,
  cellVolume: UncertainProduct,
): UncertainProduct {
  return scaledBy(productOf(cellsPerMillilitre, cellVolume, ""), "0.000001", "mm³/L");
}
