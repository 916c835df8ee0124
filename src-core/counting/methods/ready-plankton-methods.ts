import type { CountMethodDefinition } from "../../contract/records/count-method.ts";
import { PALMER_MALONEY, SEDGEWICK_RAFTER, UTERMOHL } from "../areas/chambers.ts";
import { TOP_LEFT_OUT } from "./edge-rules.ts";
import { categoryUnder, DOUBTFUL, PLAIN, stoppingBy } from "./method-parts.ts";

const GROUPS: CountMethodDefinition["categories"] = [
  categoryUnder("Numpad1", "diatoms", "diatoms"),
  categoryUnder("Numpad2", "greens", "green algae"),
  categoryUnder("Numpad3", "cyanobacteria", "cyanobacteria"),
  categoryUnder("Numpad4", "dinoflagellates", "dinoflagellates"),
  categoryUnder("Numpad5", "cryptophytes", "cryptophytes"),
  categoryUnder("Numpad6", "other_algae", "other algae"),
  DOUBTFUL,
];

const ALGAE = {
  ...PLAIN,
  categories: GROUPS,
  countingUnit: "cell, or 100 µm of filament",
  edgeRuleId: TOP_LEFT_OUT.id,
  cautions: [
    "Algae seldom lie at random: trust the interval between fields, not 2/√n.",
    "Choose fields without looking, over centre and edge of the chamber alike.",
  ],
};

export const UTERMOHL_FIELDS: CountMethodDefinition = {
  ...ALGAE,
  name: "Phytoplankton, Utermöhl chamber, grid fields",
  area: { kind: "square" },
  density: { kind: "chamber", chamber: { from: "library", chamberId: UTERMOHL.id } },
  suggestedInputs: { settledVolume: "10", dilution: "1" },
  stopping: stoppingBy("plankton-400"),
  source:
    "N/mL = X·A_c/(A_f·n·V): EN 15204:2006, from memory; chamber and settled volumes: AQUACOSM deliverable 4.1 (2017)",
  standing: "from memory",
};

export const SEDGEWICK_RAFTER_STRIPS: CountMethodDefinition = {
  ...ALGAE,
  name: "Phytoplankton, Sedgewick-Rafter chamber, strips",
  area: { kind: "strip" },
  density: { kind: "chamber", chamber: { from: "library", chamberId: SEDGEWICK_RAFTER.id } },
  suggestedInputs: { dilution: "1" },
  stopping: stoppingBy("plankton-300-cells"),
  cautions: [...ALGAE.cautions, "Many fields in many chambers tell more than strips in one."],
  source:
    "No./mL = C·1000/(L·D·W·S): Standard Methods for the Examination of Water and Wastewater, 10200 F.2",
  standing: "from memory",
};

export const PALMER_MALONEY_FIELDS: CountMethodDefinition = {
  ...ALGAE,
  name: "Nanoplankton, Palmer–Maloney chamber, grid fields",
  area: { kind: "square" },
  density: { kind: "chamber", chamber: { from: "library", chamberId: PALMER_MALONEY.id } },
  suggestedInputs: { dilution: "1" },
  stopping: stoppingBy("plankton-400"),
  source:
    "Standard Methods for the Examination of Water and Wastewater, 10200 F: chamber of 17.9 mm × 0.4 mm",
  standing: "from memory",
};
