import { type Decimal, decimal } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";
import type { CarbonClass } from "../vocabulary/counting.ts";
import type { Provenance } from "../vocabulary/provenance.ts";

/** pg C = coefficient · (V/µm³)^exponent. */
export interface CarbonRelation extends Provenance {
  readonly id: CarbonClass;
  readonly name: string;
  readonly coefficient: string;
  readonly exponent: string;
}

const MENDEN_DEUER: Provenance = {
  source: "S. Menden-Deuer and E. J. Lessard, Limnology and Oceanography 45 (2000) 569",
  standing: "from memory",
};

export const PROTIST_CARBON: CarbonRelation = {
  id: "protists",
  name: "protist plankton except diatoms",
  coefficient: "0.216",
  exponent: "0.939",
  ...MENDEN_DEUER,
};

export const DIATOM_CARBON: CarbonRelation = {
  id: "diatoms",
  name: "diatoms",
  coefficient: "0.288",
  exponent: "0.811",
  ...MENDEN_DEUER,
};

/** The relation of a class; null where no carbon is told. */
export function carbonRelation(of: CarbonClass): CarbonRelation | null {
  return [PROTIST_CARBON, DIATOM_CARBON].find(({ id }) => id === of) ?? null;
}

/** Carbon of one cell, pg, from its volume, µm³. @throws InputError when the volume is not greater than zero */
export function cellCarbon(volume: Decimal, relation: CarbonRelation): Decimal {
  return requirePositive("volume", volume).pow(decimal(relation.exponent)).times(relation.coefficient);
}
