import type { Placing, Ruling, ViewOptics } from "./view/scene.ts";
import { reticleReading, trueFactorUm } from "./view/scene.ts";

/** An invented turret: magnification and aperture of what a teaching microscope has. */
export const FREE_OBJECTIVES = [
  { objective: 4, na: 0.1 },
  { objective: 10, na: 0.25 },
  { objective: 20, na: 0.4 },
  { objective: 40, na: 0.65 },
] as const;

/** A stage micrometer of 1 mm in 100 parts. */
export const FREE_RULING: Ruling = {
  pitchUm: 10,
  lines: 101,
  lineWidthUm: 2,
  lengthsUm: [50, 70, 90],
};

export function freeOptics({ objective, na }: (typeof FREE_OBJECTIVES)[number]): ViewOptics {
  return {
    objective,
    na,
    intermediate: 1,
    wavelengthUm: 0.55,
    fieldNumber: 18,
    reticle: { divisions: 100, lengthMm: 10, lineWidthMm: 0.012, numeralEvery: 10 },
    contrast: 0.85,
    unevenness: 0.12,
    photons: 0,
    distortion: 0,
    parallaxMm: 0,
  };
}

/** How far below the scale the feet of the lines stand, and how far off that they still cross it, µm on the reticle. */
const MIDDLE_BELOW = 700;
const MOST_ASIDE = 600;

/** Where the slide lies at first: near the scale's left end, a little turned and out of focus. */
export function freePlacing({ objective, na }: (typeof FREE_OBJECTIVES)[number]): Placing {
  return {
    xUm: -4700 / objective,
    yUm: -MIDDLE_BELOW / objective,
    turnedDeg: 2,
    outOfFocusUm: 0.6 / (na * na),
    tilt: 0,
  };
}

/** What is to be done next at the free view: in words, and how the slide lies then. */
export interface NextStep {
  readonly words: string;
  readonly done: Placing;
}

/** Turned by less than this the lines look parallel, degrees. */
const STRAIGHT_DEG = 0.15;
/** Where the slide's first line is brought to, divisions. */
const FIRST_LINE_AT = 2;

/**
 * The next step towards a setting that can be read, in the order it is done at a microscope; null when only reading is
 * left.
 * @param ruled whether a ruling lies on the slide, to be lined up; of specimens only the focus is right or wrong
 */
export function nextStep(
  { optics, placing }: { readonly optics: ViewOptics; readonly placing: Placing },
  ruled: boolean,
): NextStep | null {
  // Half of the depth of field λ/NA² (wave-optical part; ISO 10934:2020, depth of field: from memory).
  const sharpUm = optics.wavelengthUm / optics.na ** 2 / 2;
  if (Math.abs(placing.outOfFocusUm) > sharpUm)
    return {
      words: "Focus until the picture is as sharp as it gets.",
      done: { ...placing, outOfFocusUm: 0 },
    };
  if (!ruled) return null;
  if (Math.abs(placing.turnedDeg) > STRAIGHT_DEG)
    return {
      words: "Turn the slide until its lines stand parallel to those of the scale.",
      done: { ...placing, turnedDeg: 0 },
    };
  const first = (FIRST_LINE_AT - optics.reticle.divisions / 2) * trueFactorUm(optics);
  const yUm = -MIDDLE_BELOW / optics.objective;
  const isAcross = Math.abs(placing.yUm - yUm) * optics.objective < MOST_ASIDE;
  const { span } = freeTruth(optics, placing);
  const isLongest = span !== null && span[0].divisions < 2 * FIRST_LINE_AT;
  if (!isAcross || !isLongest)
    return {
      words: "Move the slide: a line near the left end of the scale, its lines across the scale.",
      done: { ...placing, xUm: first, yUm },
    };
  return null;
}

/** What a perfect reader would see: µm of one division, and where two lines of the slide cross the scale. */
export interface FreeTruth {
  readonly factorUm: number;
  /** Lines of the slide and their readings, the first and the last that lie on the scale; null: none or one. */
  readonly span: readonly [FreeReading, FreeReading] | null;
}

export interface FreeReading {
  /** µm from the slide's first line. */
  readonly atUm: number;
  readonly divisions: number;
}

/** Readings along the scale's own line; the slide's turn shortens them by its cosine. */
export function freeTruth(optics: ViewOptics, placing: Placing): FreeTruth {
  const factorUm = trueFactorUm(optics);
  const cosine = Math.cos((placing.turnedDeg * Math.PI) / 180);
  const { divisions } = optics.reticle;
  const readings = Array.from({ length: FREE_RULING.lines }, (_, line) => {
    const atUm = line * FREE_RULING.pitchUm;
    // Where the line crosses the scale's own line, y = 0: it stands upright on an axis that is turned.
    const x = placing.xUm + atUm / cosine + placing.yUm * Math.tan((placing.turnedDeg * Math.PI) / 180);
    return { atUm, divisions: reticleReading(optics, x) };
  }).filter((reading) => reading.divisions >= 0 && reading.divisions <= divisions);
  const [first] = readings;
  const last = readings.at(-1);
  return { factorUm, span: first && last && first !== last ? [first, last] : null };
}
