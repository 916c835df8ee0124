import type { PersonKey } from "./registers.ts";
import type { TrainPlace } from "./true-factors.ts";

/** Mean and standard deviation of one dimension of one kind of pollen, µm. */
export type Spread = readonly [mean: number, deviation: number];

/**
 * Sizes as pollen of these names may have them, so that the sheets look like work: from memory, rounded, and of no
 * use for identification.
 */
export interface PollenKind {
  readonly label: string;
  readonly polar: Spread;
  readonly equatorial: Spread;
}

const kind = (label: string, polar: Spread, equatorial: Spread): PollenKind => ({ label, polar, equatorial });

const POLLEN = {
  heather: kind("Calluna vulgaris", [38, 2.3], [38, 2.3]),
  bellHeather: kind("Erica cinerea", [36, 1.8], [36, 1.8]),
  rape: kind("Brassica napus", [26, 1.2], [25, 1.3]),
  willow: kind("Salix sp.", [24, 1.4], [21, 1.2]),
  whiteClover: kind("Trifolium repens", [27, 1.1], [25, 1.2]),
  lime: kind("Tilia cordata", [27, 1.5], [35, 1.7]),
  bramble: kind("Rubus fruticosus", [29, 1.6], [25, 1.4]),
  chestnut: kind("Castanea sativa", [15, 0.7], [11.5, 0.6]),
  sainfoin: kind("Onobrychis viciifolia", [38, 1.6], [20.5, 1.1]),
  maize: kind("Zea mays", [88, 4.5], [88, 4.5]),
  willowherb: kind("Epilobium angustifolium", [84, 3.8], [84, 3.8]),
  phacelia: kind("Phacelia tanacetifolia", [22, 1.0], [20, 1.0]),
} as const;

/** What happens beside the plain reading of a row, by its place on the sheet (1…). */
export interface Incident {
  readonly row: number;
  readonly what: "strike" | "amend" | "note" | "reversed" | "off-scale" | "half-read";
  readonly words: string;
}

export interface SheetPlan {
  readonly daysAgo: number;
  readonly time: string;
  readonly sample: string;
  readonly method: "polar" | "diameter";
  readonly place: TrainPlace;
  readonly by: PersonKey;
  /** Kinds in the order they are met, with how many grains of each. */
  readonly grains: readonly (readonly [PollenKind, number])[];
  /** Who reviews it when it has been closed; none: it stays open. */
  readonly reviewer?: PersonKey;
  /** From this row on the turret stands elsewhere. */
  readonly turns: readonly (readonly [row: number, position: number])[];
  readonly incidents: readonly Incident[];
}

const INVENTED_SAMPLE = "(invented)";

export const SHEET_PLANS: readonly SheetPlan[] = [
  {
    daysAgo: 255,
    time: "10:40",
    sample: `Phacelia honey HM-088 ${INVENTED_SAMPLE}`,
    method: "polar",
    // By the fine scale, two weeks before its certificate was corrected: these sizes still rest on the replaced one.
    place: { stand: "window", eyepiece: 1, position: 4 },
    by: "tamsin",
    grains: [
      [POLLEN.phacelia, 20],
      [POLLEN.whiteClover, 14],
    ],
    reviewer: "idris",
    turns: [],
    incidents: [{ row: 13, what: "strike", words: "burst grain" }],
  },
  {
    daysAgo: 150,
    time: "09:05",
    sample: `Heather honey HM-104 ${INVENTED_SAMPLE}`,
    method: "diameter",
    place: { stand: "window", eyepiece: 0, position: 4 },
    by: "maren",
    grains: [
      [POLLEN.heather, 36],
      [POLLEN.bellHeather, 10],
    ],
    turns: [],
    incidents: [
      { row: 9, what: "strike", words: "tetrad squashed by the cover glass" },
      { row: 21, what: "amend", words: "" },
      { row: 33, what: "note", words: "tetrad slightly tilted, both ends still sharp" },
    ],
  },
  {
    daysAgo: 120,
    time: "13:10",
    sample: `Rape honey HM-117 ${INVENTED_SAMPLE}`,
    method: "polar",
    // Somebody else's factor on a head that is not compensated: every row says so.
    place: { stand: "window", eyepiece: 0, position: 4 },
    by: "idris",
    grains: [
      [POLLEN.rape, 30],
      [POLLEN.willow, 12],
      [POLLEN.whiteClover, 10],
    ],
    turns: [],
    incidents: [
      { row: 4, what: "strike", words: "burst grain" },
      { row: 17, what: "reversed", words: "" },
      { row: 40, what: "note", words: "label changed after a second look" },
    ],
  },
  {
    daysAgo: 80,
    time: "08:40",
    sample: `Lime honey HM-131 ${INVENTED_SAMPLE}`,
    method: "polar",
    place: { stand: "door", eyepiece: 0, position: 3 },
    by: "tamsin",
    grains: [
      [POLLEN.lime, 24],
      [POLLEN.bramble, 12],
      [POLLEN.chestnut, 12],
    ],
    turns: [],
    incidents: [
      { row: 11, what: "strike", words: "two grains stuck together" },
      { row: 27, what: "amend", words: "" },
      { row: 38, what: "strike", words: "not a chestnut grain after all" },
    ],
  },
  {
    daysAgo: 40,
    time: "10:20",
    sample: `Maize reference slide ${INVENTED_SAMPLE}`,
    method: "diameter",
    place: { stand: "window", eyepiece: 0, position: 3 },
    by: "maren",
    grains: [[POLLEN.maize, 32]],
    turns: [[25, 2]],
    incidents: [
      { row: 6, what: "off-scale", words: "" },
      { row: 29, what: "strike", words: "grain collapsed" },
    ],
  },
  {
    daysAgo: 12,
    time: "15:00",
    sample: `Willowherb reference slide ${INVENTED_SAMPLE}`,
    method: "diameter",
    // Rests on the long scale, whose certificate has run out.
    place: { stand: "door", eyepiece: 1, position: 1 },
    by: "idris",
    grains: [[POLLEN.willowherb, 28]],
    turns: [],
    incidents: [{ row: 14, what: "strike", words: "wrong grain measured twice" }],
  },
  {
    daysAgo: 3,
    time: "09:30",
    sample: `Sainfoin and phacelia honey HM-158 ${INVENTED_SAMPLE}`,
    method: "polar",
    place: { stand: "window", eyepiece: 0, position: 4 },
    by: "maren",
    grains: [
      [POLLEN.sainfoin, 22],
      [POLLEN.phacelia, 14],
    ],
    // The last grains under oil immersion, an objective that nobody has calibrated.
    turns: [[29, 5]],
    incidents: [
      { row: 19, what: "strike", words: "grain turned over while reading" },
      { row: 36, what: "half-read", words: "" },
    ],
  },
];
