import type { MethodDefinition } from "../../contract/records/method.ts";
import {
  BIOSAFETY,
  DIAGNOSTIC_USE,
  FIXATIVES,
  LOCAL_RULES,
  MOUNTING_SWELLS,
  NOMINAL_MAGNIFICATION,
  TRAIN_ONLY,
} from "../../methods/measuring-cautions.ts";
import { TULLOSS_LINDGREN } from "../../vocabulary/literature.ts";
import type { Provenance } from "../../vocabulary/provenance.ts";
import { defaultTypedReadingConditions } from "../default-reading-conditions.ts";
import { PLAIN_METHOD } from "./plain-method.ts";

/** A method offered for a bench to take over and change; nothing is defined on a bench until somebody does so. */
export interface ReadyMethod extends Provenance {
  readonly id: string;
  readonly definition: MethodDefinition;
  /** What to mind, shown beside the method and printed with what was measured under it. */
  readonly cautions: readonly string[];
}

const LENGTH_BASE: Omit<MethodDefinition, "name" | "dimensions" | "edgeConvention"> = {
  ...PLAIN_METHOD,
  reading: defaultTypedReadingConditions(),
  coverage: "t95",
  rounding: "half-even",
  minimumDivisions: "20",
  note: "",
};

const pollen: ReadyMethod = {
  id: "pollen-p-e",
  source:
    "Shape classes of G. Erdtman, Pollen Morphology and Plant Taxonomy (1952); size classes of G. Erdtman (1945, 1969)",
  standing: "from memory",
  definition: {
    ...LENGTH_BASE,
    name: "Pollen, polar axis and equatorial diameter",
    dimensions: [
      { key: "p", name: "Polar axis" },
      { key: "e", name: "Equatorial diameter" },
    ],
    edgeConvention: "outer edge of the exine in optical section, ornament left out",
    derived: [
      { key: "p_e", name: "P/E", kind: "ratio", of: ["p", "e"] },
      { key: "longest", name: "Longest axis", kind: "largest", of: ["p", "e"] },
    ],
    classes: [
      { of: "p_e", tableId: "erdtman-shape" },
      { of: "longest", tableId: "erdtman-size" },
    ],
    report: { kind: "pollen P and E", places: 1, ratioPlaces: 2 },
    note: "Grains in equatorial view, both ends sharp in one focus. State whether acetolysed or fresh, the medium and the age of the slide.",
  },
  cautions: [MOUNTING_SWELLS, FIXATIVES, TRAIN_ONLY, LOCAL_RULES],
};

const spores: ReadyMethod = {
  id: "spores-l-w",
  source: `${TULLOSS_LINDGREN}, notation of ranges; Q classes of C. Bas, Persoonia 5 (1969), from memory`,
  standing: "published",
  definition: {
    ...LENGTH_BASE,
    name: "Spores, length and width with Q",
    dimensions: [
      { key: "l", name: "Length" },
      { key: "w", name: "Width" },
    ],
    edgeConvention: "outer edge of the wall in side view, without ornament and apiculus",
    derived: [
      { key: "q", name: "Q", kind: "ratio", of: ["l", "w"] },
      { key: "volume", name: "Volume", kind: "prolate-spheroid", of: ["w", "l"] },
    ],
    classes: [{ of: "q", tableId: "bas-quotient" }],
    percentiles: { type: 7, lower: "5", upper: "95" },
    report: { kind: "spore notation", places: 1, ratioPlaces: 2 },
    note: "Mature spores from a print, both ends in focus. State medium, print or gill, live or dried.",
  },
  cautions: [MOUNTING_SWELLS, FIXATIVES, TRAIN_ONLY],
};

const BIOVOLUME_SOURCE: Provenance = {
  source: "H. Hillebrand et al., Journal of Phycology 35 (1999) 403; EN 16695:2015",
  standing: "from memory",
};

const BIOVOLUME_NOTE =
  "The mean of the volumes of single cells is used, not the volume of mean dimensions. A hidden dimension is taken from a fixed ratio, written down.";

const spheroidCells: ReadyMethod = {
  id: "biovolume-spheroid",
  ...BIOVOLUME_SOURCE,
  definition: {
    ...LENGTH_BASE,
    name: "Phytoplankton biovolume, prolate spheroid",
    dimensions: [
      { key: "d", name: "Diameter" },
      { key: "h", name: "Length" },
    ],
    edgeConvention: "outer edge of the cell wall, without mucilage",
    derived: [{ key: "volume", name: "Biovolume", kind: "prolate-spheroid", of: ["d", "h"] }],
    report: { kind: "mean and range", places: 1, ratioPlaces: 2 },
    note: BIOVOLUME_NOTE,
  },
  cautions: [FIXATIVES, TRAIN_ONLY, LOCAL_RULES],
};

const cylinderCells: ReadyMethod = {
  id: "biovolume-cylinder",
  ...BIOVOLUME_SOURCE,
  definition: {
    ...spheroidCells.definition,
    name: "Phytoplankton biovolume, cylinder",
    derived: [{ key: "volume", name: "Biovolume", kind: "cylinder", of: ["d", "h"] }],
  },
  cautions: [FIXATIVES, TRAIN_ONLY, LOCAL_RULES],
};

const textile: ReadyMethod = {
  id: "textile-fibre-diameter",
  source:
    "ISO: Textile glass – Staple fibres or filaments – Determination of average diameter, ISO 1888 (2022), 4.2.1 (eyepiece with micrometer graticule, overall 400× or more, read to 0.5 µm or better)",
  standing: "published",
  definition: {
    ...LENGTH_BASE,
    name: "Textile fibre, diameter",
    dimensions: [{ key: "d", name: "Diameter" }],
    edgeConvention: "both edges of the fibre in the same focus",
    reading: { ...defaultTypedReadingConditions(), ends: "parallel-edges" },
    report: { kind: "mean and range", places: 1, ratioPlaces: 2 },
    note: "Fibres are met along a zig-zag traverse; one is measured only when it touches no other at the measuring point. Report mean, CV and n.",
  },
  cautions: [NOMINAL_MAGNIFICATION, TRAIN_ONLY, LOCAL_RULES],
};

const particles: ReadyMethod = {
  id: "particle-length-width",
  source:
    "Length and width by the scale's direction: longest dimension parallel to the scale, width at right angles to it",
  standing: "common practice",
  definition: {
    ...LENGTH_BASE,
    name: "Particle, length and width",
    dimensions: [
      { key: "l", name: "Length" },
      { key: "w", name: "Width" },
    ],
    edgeConvention: "outermost points of the outline",
    derived: [{ key: "aspect", name: "Length/width", kind: "ratio", of: ["l", "w"] }],
    report: { kind: "mean and range", places: 1, ratioPlaces: 2 },
    note: "State the sizing convention, the number basis and n with every result.",
  },
  cautions: [
    "For release of a medicine the pharmacopoeia in force decides, not this program.",
    TRAIN_ONLY,
    LOCAL_RULES,
  ],
};

const particlesBySize: ReadyMethod = {
  id: "particles-by-size-per-container",
  source: "USP <788>, method 2, microscopic: longest dimension, ≥ 10 µm and ≥ 25 µm",
  standing: "from memory",
  definition: {
    ...LENGTH_BASE,
    name: "Particles by size, per container of 100 mL or less",
    dimensions: [{ key: "l", name: "Longest dimension" }],
    edgeConvention: "outermost points of the outline",
    sizeClasses: {
      of: "l",
      counted: "at-least",
      per: "container",
      rule: "simple-acceptance",
      limits: [
        { from: "10", most: "3000" },
        { from: "25", most: "300" },
      ],
      source: "USP <788>, method 2, containers of 100 mL nominal or less; from memory",
    },
    note: "Name containers, volume and the part of the filter that was looked at. A blank is measured on a sheet of its own. Gelatinous or amorphous matter is not judged by this method.",
  },
  cautions: [
    "For release of a medicine the pharmacopoeia in force decides, not this program.",
    TRAIN_ONLY,
    LOCAL_RULES,
  ],
};

const eggs: ReadyMethod = {
  id: "parasite-egg-l-w",
  source: "Length and width of helminth eggs as bench aids give them",
  standing: "common practice",
  definition: {
    ...LENGTH_BASE,
    name: "Parasite egg, length and width",
    dimensions: [
      { key: "l", name: "Length" },
      { key: "w", name: "Width" },
    ],
    edgeConvention: "outer edge of the shell, plugs and spines included only where said",
    derived: [{ key: "l_w", name: "L/W", kind: "ratio", of: ["l", "w"] }],
    report: { kind: "mean and range", places: 0, ratioPlaces: 2 },
    note: "An object between two sizes is measured again with the next objective before it is named.",
  },
  cautions: [DIAGNOSTIC_USE, BIOSAFETY, FIXATIVES, TRAIN_ONLY],
};

const intercepts: ReadyMethod = {
  id: "grain-size-intercept",
  source: "ASTM E112, mean linear intercept",
  standing: "from memory",
  definition: {
    ...LENGTH_BASE,
    name: "Grain size, linear intercept",
    dimensions: [{ key: "i", name: "Intercept" }],
    edgeConvention: "from grain boundary to grain boundary along the reticle's line",
    entry: "direct",
    report: { kind: "grain size number", places: 1, ratioPlaces: 2 },
    note: "Test lines are laid blindly, over the whole section. The grain-size number follows from the mean intercept, not from single ones.",
  },
  cautions: [NOMINAL_MAGNIFICATION, TRAIN_ONLY, LOCAL_RULES],
};

const curved: ReadyMethod = {
  id: "curved-length-in-parts",
  source: "Length along a curve as the sum of straight parts, read end to end",
  standing: "common practice",
  definition: {
    ...LENGTH_BASE,
    name: "Curved object, length in parts and width",
    dimensions: [
      { key: "l", name: "Length", parts: 6 },
      { key: "w", name: "Width" },
    ],
    edgeConvention: "along the middle line from end to end; each part ends where the next begins",
    report: { kind: "mean and range", places: 0, ratioPlaces: 2 },
    note: "Turn the eyepiece or the stage until the scale lies along each part. As many parts as the curve needs: chords are always too short.",
  },
  cautions: [FIXATIVES, TRAIN_ONLY, LOCAL_RULES],
};

/** One for each of the trades that measure single objects most. */
export const READY_METHODS: readonly ReadyMethod[] = [
  pollen,
  spores,
  spheroidCells,
  cylinderCells,
  textile,
  particles,
  particlesBySize,
  eggs,
  intercepts,
  curved,
];
