import type { CountMethodDefinition } from "../../contract/records/count-method.ts";
import { HONEY_ABSOLUTE_CLASSES, HONEY_FREQUENCY_CLASSES } from "../../methods/honey-classes.ts";
import { LOUVEAUX } from "../../vocabulary/literature.ts";
import { HIRST_DRUM } from "../areas/drum-trap.ts";
import { categoryUnder, DOUBTFUL, PLAIN, stoppingBy, tableOf } from "./method-parts.ts";

const MARKER = categoryUnder("NumpadDecimal", "marker", "marker spores", { kind: "marker" });

export const POLLEN_MARKER: CountMethodDefinition = {
  ...PLAIN,
  name: "Pollen with marker spores",
  categories: [
    categoryUnder("Numpad1", "pinus", "Pinus", { halves: true }),
    categoryUnder("Numpad2", "betula", "Betula"),
    categoryUnder("Numpad3", "alnus", "Alnus"),
    categoryUnder("Numpad4", "corylus", "Corylus"),
    categoryUnder("Numpad5", "quercus", "Quercus"),
    categoryUnder("Numpad6", "poaceae", "Poaceae"),
    categoryUnder("Numpad7", "other_pollen", "other pollen"),
    categoryUnder("Numpad8", "indeterminable", "indeterminable", { kind: "aside" }),
    MARKER,
    DOUBTFUL,
  ],
  countingUnit: "grain",
  area: { kind: "none" },
  density: { kind: "marker", sampleUnit: "cm³" },
  suggestedInputs: { markerTablets: "1" },
  stopping: stoppingBy("pollen-500-marker-20"),
  cautions: ["Spores per tablet and their deviation are those of the batch: read them off its label."],
  source:
    "Grains = counted × marker added / marker counted, and its uncertainty: J. Stockmarr: Tablets with spores used in absolute pollen analysis (1971), Pollen et Spores 13, 615",
  standing: "from memory",
};

const HONEY_CATEGORIES: CountMethodDefinition["categories"] = [
  categoryUnder("Numpad1", "brassica", "Brassica"),
  categoryUnder("Numpad2", "trifolium", "Trifolium"),
  categoryUnder("Numpad3", "tilia", "Tilia"),
  categoryUnder("Numpad4", "castanea", "Castanea"),
  categoryUnder("Numpad5", "calluna", "Calluna"),
  categoryUnder("Numpad6", "rubus", "Rubus"),
  categoryUnder("Numpad7", "other_nectar", "other nectar plants"),
  categoryUnder("Numpad8", "honeydew", "honeydew elements", { kind: "aside" }),
  DOUBTFUL,
];

export const HONEY_CLASSES: CountMethodDefinition = {
  ...PLAIN,
  name: "Honey, frequency classes",
  categories: HONEY_CATEGORIES,
  countingUnit: "grain",
  area: { kind: "none" },
  density: { kind: "none" },
  stopping: stoppingBy("honey-300"),
  shareClasses: tableOf(HONEY_FREQUENCY_CLASSES),
  cautions: [
    "The source says nothing of 15 to 16 %: decide the class there yourself and write it down.",
    "For percentages rather than classes count 500 to 1000 grains.",
  ],
  source: `${LOUVEAUX}, as a honey pollen text gives it`,
  standing: "published",
};

export const POLLEN_PER_TEN_GRAMS: CountMethodDefinition = {
  ...PLAIN,
  name: "Honey, grains in 10 g by marker spores",
  categories: [
    categoryUnder("Numpad1", "pollen", "pollen grains"),
    categoryUnder("Numpad2", "honeydew", "honeydew elements", { kind: "aside" }),
    MARKER,
    DOUBTFUL,
  ],
  countingUnit: "grain",
  area: { kind: "none" },
  density: { kind: "marker", sampleUnit: "10 g" },
  suggestedInputs: { markerTablets: "1", sampleSize: "1" },
  stopping: stoppingBy("honey-500"),
  densityClasses: tableOf(HONEY_ABSOLUTE_CLASSES),
  cautions: ["Limits printed for two neighbouring classes are told as such: decide them yourself."],
  source: "A. Maurizio, absolute pollen classes; marker spores after J. Stockmarr (1971)",
  standing: "from memory",
};

export const AIRBORNE_POLLEN: CountMethodDefinition = {
  ...PLAIN,
  name: "Airborne pollen, lines along a daily trace",
  categories: [
    categoryUnder("Numpad1", "poaceae", "Poaceae"),
    categoryUnder("Numpad2", "betula", "Betula"),
    categoryUnder("Numpad3", "alnus", "Alnus"),
    categoryUnder("Numpad4", "corylus", "Corylus"),
    categoryUnder("Numpad5", "artemisia", "Artemisia"),
    categoryUnder("Numpad6", "other_pollen", "other pollen"),
    DOUBTFUL,
  ],
  countingUnit: "grain",
  area: { kind: "strip" },
  density: { kind: "drum", drum: { from: "library", drumId: HIRST_DRUM.id } },
  stopping: {
    name: "4 lines",
    rule: { kind: "fields", atLeast: 4 },
    source: "Aerobiology practice: 4 lines along the trace",
    standing: "from memory",
  },
  cautions: ["One field is one line along the whole trace, 24 h of air."],
  source: "Aerobiology practice for traps of the Hirst type: 14 mm trace, 10 L/min",
  standing: "from memory",
};
