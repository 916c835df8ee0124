import { NO_SOURCE, PLANKTON_PROTOCOL } from "../../vocabulary/literature.ts";
import type { Provenance } from "../../vocabulary/provenance.ts";

/** Plan of a chamber, mm. */
export type ChamberOutline =
  | { readonly kind: "rectangle"; readonly length: string; readonly width: string }
  | { readonly kind: "circle"; readonly diameter: string };

/** A ruled square of a chamber, mm². */
export interface ChamberSquare {
  readonly id: string;
  readonly name: string;
  readonly area: string;
}

/** A counting chamber; lengths in mm as decimal text. */
export interface CountingChamber extends Provenance {
  readonly id: string;
  readonly name: string;
  readonly outline: ChamberOutline;
  /** Depth of the liquid; null for a settling chamber, where the settled volume counts instead. */
  readonly depth: string | null;
  /** Nominal volume, mL; null when it is chosen for each sample. */
  readonly volume: string | null;
  readonly squares: readonly ChamberSquare[];
}

export const SEDGEWICK_RAFTER: CountingChamber = {
  id: "sedgewick-rafter",
  name: "Sedgewick-Rafter",
  outline: { kind: "rectangle", length: "50", width: "20" },
  depth: "1",
  volume: "1",
  squares: [{ id: "square", name: "square of 1 µL", area: "1" }],
  source: `${NO_SOURCE}: 50 × 20 × 1 mm, 1000 squares of 1 µL`,
  standing: "common practice",
};

export const PALMER_MALONEY: CountingChamber = {
  id: "palmer-maloney",
  name: "Palmer–Maloney",
  outline: { kind: "circle", diameter: "17.9" },
  depth: "0.4",
  volume: "0.1",
  squares: [],
  source: "Standard Methods for the Examination of Water and Wastewater, 10200 F: 17.9 mm × 0.4 mm",
  standing: "from memory",
};

export const UTERMOHL: CountingChamber = {
  id: "utermohl",
  name: "Utermöhl",
  outline: { kind: "circle", diameter: "25.0" },
  depth: null,
  volume: null,
  squares: [],
  source: `${PLANKTON_PROTOCOL}: base of about 25 mm, 5 to 50 mL`,
  standing: "published",
};

export const NEUBAUER: CountingChamber = {
  id: "neubauer-improved",
  name: "Neubauer (improved)",
  outline: { kind: "rectangle", length: "3", width: "3" },
  depth: "0.1",
  volume: null,
  squares: [
    { id: "large", name: "large square", area: "1" },
    { id: "group", name: "1/25 of the centre square", area: "0.04" },
    { id: "small", name: "1/400 of the centre square", area: "0.0025" },
  ],
  source:
    "BSI: Haemocytometer counting chambers, BS 748 (1982): 3 × 3 × 0.1 mm, squares of 1, 1/25 and 1/400 mm²",
  standing: "from memory",
};

export const COUNTING_CHAMBERS: readonly CountingChamber[] = [
  SEDGEWICK_RAFTER,
  PALMER_MALONEY,
  UTERMOHL,
  NEUBAUER,
];
