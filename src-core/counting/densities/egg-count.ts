import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { requirePositive } from "../../quantity/input-error.ts";
import { exactly, type UncertainProduct } from "../../quantity/uncertain-product.ts";
import type { Provenance } from "../../vocabulary/provenance.ts";

/** A McMaster preparation. */
export interface McMasterPreparation extends Provenance {
  readonly id: string;
  readonly name: string;
  /** Faeces weighed, g; volume of the suspension, mL; volume under the grids that are read, mL. */
  readonly mass: string;
  readonly suspension: string;
  readonly read: string;
}

export const MCMASTER: McMasterPreparation = {
  id: "mcmaster-4-60-0.3",
  name: "McMaster, 4 g in 60 mL, two grids of 0.15 mL",
  mass: "4",
  suspension: "60",
  read: "0.3",
  source: "FAO manuals on veterinary parasitology",
  standing: "from memory",
};

/** Eggs per gram that one egg stands for: suspension/(mass · read volume). */
export function mcMasterPerObject(preparation: McMasterPreparation = MCMASTER): UncertainProduct {
  const mass = requirePositive("mass", decimal(preparation.mass));
  const read = requirePositive("read", decimal(preparation.read));
  const suspension = requirePositive("suspension", decimal(preparation.suspension));
  return exactly("preparation", suspension.div(mass.times(read)), "EPG");
}

/** Template of a Kato-Katz smear, mg, and the multiplier that is printed for it. */
export const KATO_KATZ: Provenance & { readonly template: string; readonly multiplier: string } = {
  template: "41.7",
  multiplier: "24",
  source: "WHO bench aids for intestinal parasites: template of 41.7 mg, multiply by 24",
  standing: "from memory",
};

/** Eggs per gram that one egg stands for: by the printed multiplier 24, or 1000 mg over the template's mass. */
export function katoKatzPerObject(by: "multiplier" | { readonly template: Decimal }): UncertainProduct {
  if (by === "multiplier") return exactly("multiplier", KATO_KATZ.multiplier, "EPG");
  return exactly("template", decimal(1000).div(requirePositive("template", by.template)), "EPG");
}
