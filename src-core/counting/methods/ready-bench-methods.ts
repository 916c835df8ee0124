import type { CountMethodDefinition } from "../../contract/records/count-method.ts";
import { NIOSH_7400_A } from "../../methods/fibre-rules.ts";
import { NO_SOURCE } from "../../vocabulary/literature.ts";
import { NEUBAUER } from "../areas/chambers.ts";
import { FILTER_25_MM } from "../areas/filters.ts";
import { KATO_KATZ, MCMASTER } from "../densities/egg-count.ts";
import { BOTTOM_LEFT_OUT } from "./edge-rules.ts";
import { categoryUnder, DOUBTFUL, PLAIN, stoppingBy } from "./method-parts.ts";

export const HAEMOCYTOMETER: CountMethodDefinition = {
  ...PLAIN,
  name: "Cells, improved Neubauer haemocytometer, large squares",
  categories: [
    categoryUnder("Numpad1", "unstained", "unstained cells"),
    categoryUnder("Numpad2", "stained", "stained cells"),
    DOUBTFUL,
  ],
  countingUnit: "cell",
  area: { kind: "chamber-square", square: "large" },
  density: { kind: "chamber", chamber: { from: "library", chamberId: NEUBAUER.id } },
  suggestedInputs: { dilution: "1" },
  edgeRuleId: BOTTOM_LEFT_OUT.id,
  stopping: {
    name: "100 cells",
    rule: { kind: "units", atLeast: 100 },
    source: `${NO_SOURCE}: about 100 cells or more, 10 to 100 in a square`,
    standing: "common practice",
  },
  cautions: [
    "One field is one large square of 1 mm².",
    "Diagnostic use: identification and reporting rest with licensed personnel under the local quality system.",
  ],
  source: `${NO_SOURCE}: haemocytometer teaching`,
  standing: "common practice",
};

export const FIBRES_ON_FILTER: CountMethodDefinition = {
  ...PLAIN,
  name: "Fibres on a filter, phase contrast",
  categories: [
    categoryUnder("Numpad1", "fibre", "fibres", { halves: true }),
    categoryUnder("Numpad2", "bundle", "bundles"),
    categoryUnder("Numpad3", "not_fibre", "not countable", { kind: "aside" }),
    DOUBTFUL,
  ],
  countingUnit: "fibre",
  area: { kind: "circle" },
  density: { kind: "fibres", filter: { from: "library", filterId: FILTER_25_MM.id } },
  suggestedInputs: { blankCount: "0", blankFields: "100" },
  fibreRuleId: NIOSH_7400_A.id,
  stopping: stoppingBy("niosh-7400-a"),
  cautions: [
    "Asbestos: sampling, clearing and counting belong to trained analysts in laboratories that are accredited and take part in proficiency testing. These results are not a clearance certificate.",
    "The uncertainty shown is that of count, area and air alone; the subjective part is the laboratory's own.",
    "Leave out a field that is obscured more than the method allows, and take another.",
  ],
  source:
    "NIOSH Manual of Analytical Methods 7400 (1994): counting rules as a public laboratory gives them; E = (F/n − B/n_b)/A_f and C = E·A_c/(V·10³) from memory",
  standing: "from memory",
};

const EGGS: Pick<CountMethodDefinition, "categories" | "countingUnit" | "area"> = {
  categories: [
    categoryUnder("Numpad1", "strongyles", "strongyle eggs"),
    categoryUnder("Numpad2", "ascarids", "ascarid eggs"),
    categoryUnder("Numpad3", "trichurids", "trichurid eggs"),
    categoryUnder("Numpad4", "other_eggs", "other eggs"),
    DOUBTFUL,
  ],
  countingUnit: "egg",
  area: { kind: "none" },
};

const WHOLE_PREPARATION: CountMethodDefinition["stopping"] = {
  name: "the whole preparation",
  rule: null,
  source: "The method counts all that is under the grid or on the slide",
  standing: "common practice",
};

const BIOSAFETY = "Samples may be infectious: follow your site's biosafety rules.";

export const EGGS_MCMASTER: CountMethodDefinition = {
  ...PLAIN,
  ...EGGS,
  name: "Eggs per gram, McMaster",
  density: { kind: "mcmaster" },
  suggestedInputs: {
    mass: MCMASTER.mass,
    suspension: MCMASTER.suspension,
    readVolume: MCMASTER.read,
  },
  stopping: WHOLE_PREPARATION,
  cautions: [BIOSAFETY],
  source: MCMASTER.source,
  standing: MCMASTER.standing,
};

export const EGGS_KATO_KATZ: CountMethodDefinition = {
  ...PLAIN,
  ...EGGS,
  name: "Eggs per gram, Kato-Katz",
  categories: [
    categoryUnder("Numpad1", "ascaris", "Ascaris eggs"),
    categoryUnder("Numpad2", "trichuris", "Trichuris eggs"),
    categoryUnder("Numpad3", "hookworm", "hookworm eggs"),
    categoryUnder("Numpad4", "schistosoma", "Schistosoma eggs"),
    DOUBTFUL,
  ],
  density: { kind: "kato-katz", by: "multiplier" },
  stopping: WHOLE_PREPARATION,
  cautions: [
    BIOSAFETY,
    "The printed multiplier 24 is 1000/41.7 rounded (23.98); choose the template's mass for the unrounded one.",
  ],
  source: KATO_KATZ.source,
  standing: KATO_KATZ.standing,
};
