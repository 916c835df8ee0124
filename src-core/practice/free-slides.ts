import { chamberLines, countField } from "./exercises/count-field.ts";
import { FREE_RULING } from "./free-view.ts";
import { NO_RULING, type View } from "./view/render-view.ts";
import type { Placing, ViewOptics } from "./view/scene.ts";
import type { Outline, Specimen } from "./view/specimen.ts";

/** Something to look at in the free view. */
export interface FreeSlide {
  readonly name: string;
  readonly shows: Pick<View, "ruling" | "specimens">;
  /** What is true of it beside the factor, in a sentence; empty: nothing. */
  readonly truth: string;
}

type Mounted = readonly [name: string, outline: Outline, change: Partial<Specimen>];

/** One of each kind, sizes and places invented. */
const MOUNT: readonly Mounted[] = [
  ["sphere", { kind: "ellipse", lengthUm: 42, widthUm: 42 }, { xUm: -170, yUm: 40 }],
  [
    "spiny ellipsoid",
    { kind: "ellipse", lengthUm: 48, widthUm: 32 },
    { xUm: -95, yUm: -30, turnedDeg: 25, ornamentUm: 4 },
  ],
  [
    "spore",
    { kind: "spore", lengthUm: 30, widthUm: 18, apiculusUm: 3 },
    { xUm: -40, yUm: 25, turnedDeg: -20 },
  ],
  ["diatom valve", { kind: "valve", lengthUm: 76, widthUm: 18 }, { xUm: 20, yUm: -25, turnedDeg: 8 }],
  ["rod", { kind: "rod", lengthUm: 60, widthUm: 7, bendUm: 0 }, { xUm: 90, yUm: 30, turnedDeg: 70 }],
  [
    "curved fibre",
    { kind: "rod", lengthUm: 90, widthUm: 3, bendUm: 12 },
    { xUm: 150, yUm: -25, turnedDeg: -15, wallUm: 0, bodyDark: 0.7 },
  ],
  [
    "grain of dirt",
    {
      kind: "debris",
      sizeUm: 16,
      waves: [
        [3, 0.2, 1],
        [5, 0.12, 4],
      ],
    },
    { xUm: 55, yUm: 55, wallUm: 0, bodyDark: 0.75 },
  ],
];

const specimenOf = ([, outline, change]: Mounted): Specimen => ({
  outline,
  xUm: 0,
  yUm: 0,
  turnedDeg: 0,
  wallUm: 1.6,
  wallDark: 0.75,
  bodyDark: 0.2,
  ornamentUm: 0,
  ...change,
});

const sizeOf = (outline: Outline): number => (outline.kind === "debris" ? outline.sizeUm : outline.lengthUm);
const FIELD_SEED = 5113;

export const FREE_SLIDES: readonly [FreeSlide, ...FreeSlide[]] = [
  { name: "stage micrometer, 1 mm in 100 parts", shows: { ruling: FREE_RULING }, truth: "" },
  {
    name: "specimens, one of each kind",
    shows: { ruling: NO_RULING, specimens: MOUNT.map(specimenOf) },
    truth: `${MOUNT.map(([name, outline]) => `${name} ${sizeOf(outline)} µm`).join(", ")}: the longest of each, without spines or apiculus; the fibre end to end straight across, before it was bent.`,
  },
  {
    name: "a square of a chamber with two kinds",
    shows: {
      ruling: NO_RULING,
      specimens: [...chamberLines(), ...countField(FIELD_SEED, 2).map(({ specimen }) => specimen)],
    },
    truth: `${countField(FIELD_SEED, 2).filter(({ counts }) => counts).length} objects belong to the square: bottom and right edges in, top and left out.`,
  },
];

/** What spoils a view, one at a time. */
export interface Disturbance {
  readonly name: string;
  readonly of: (optics: ViewOptics) => { readonly optics: ViewOptics; readonly placing: Partial<Placing> };
}

export const DISTURBANCES: readonly [Disturbance, ...Disturbance[]] = [
  { name: "nothing", of: (optics) => ({ optics, placing: {} }) },
  { name: "a tilted slide", of: (optics) => ({ optics, placing: { tilt: 0.004 * optics.objective } }) },
  { name: "a dim lamp: few photons", of: (optics) => ({ optics: { ...optics, photons: 150 }, placing: {} }) },
  { name: "uneven light", of: (optics) => ({ optics: { ...optics, unevenness: 0.55 }, placing: {} }) },
  { name: "low contrast", of: (optics) => ({ optics: { ...optics, contrast: 0.25 }, placing: {} }) },
  {
    name: "a field stretched towards its rim",
    of: (optics) => ({ optics: { ...optics, distortion: 0.05 }, placing: {} }),
  },
  {
    name: "the head aside, the eyepiece not focused on the reticle",
    of: (optics) => ({ optics: { ...optics, parallaxMm: 0.3 }, placing: {} }),
  },
];
