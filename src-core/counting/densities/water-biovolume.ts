import { type CarbonRelation, cellCarbon } from "../../methods/carbon.ts";
import { decimal } from "../../quantity/decimal.ts";
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

/** Carbon of one cell, pg, from its volume: each relative doubt of the volume times the exponent of the relation. */
export function carbonOfCell(cellVolume: UncertainProduct, relation: CarbonRelation): UncertainProduct {
  const exponent = decimal(relation.exponent);
  return {
    value: cellCarbon(cellVolume.value, relation),
    unit: "pg",
    components: cellVolume.components.map((one) => ({ ...one, relative: one.relative.times(exponent) })),
  };
}

/** Carbon of a taxon in water, µg/L, from cells/mL and pg/cell: their product times 10⁻³. */
export function carbonPerLitre(
  cellsPerMillilitre: UncertainProduct,
  carbon: UncertainProduct,
): UncertainProduct {
  return scaledBy(productOf(cellsPerMillilitre, carbon, ""), "0.001", "µg C/L");
}
