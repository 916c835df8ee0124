import { NIOSH_7400 } from "../../vocabulary/literature.ts";
import type { Provenance } from "../../vocabulary/provenance.ts";

/** A filter and the area on which it collects, mm². */
export interface CollectingFilter extends Provenance {
  readonly id: string;
  readonly name: string;
  readonly effectiveArea: string;
}

export const FILTER_25_MM: CollectingFilter = {
  id: "filter-25",
  name: "25 mm filter",
  effectiveArea: "385",
  source: "NIOSH Manual of Analytical Methods 7400, calculations",
  standing: "from memory",
};

export const FILTER_37_MM: CollectingFilter = {
  id: "filter-37",
  name: "37 mm filter",
  effectiveArea: "855",
  source: "NIOSH Manual of Analytical Methods 7400",
  standing: "from memory",
};

export const COLLECTING_FILTERS: readonly CollectingFilter[] = [FILTER_25_MM, FILTER_37_MM];

/** Nominal field of a Walton–Beckett graticule, mm². */
export const WALTON_BECKETT_AREA: Provenance & { readonly area: string } = {
  area: "0.00785",
  source: `${NIOSH_7400}, equipment item 13`,
  standing: "published",
};
