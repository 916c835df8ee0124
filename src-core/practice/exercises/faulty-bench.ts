import { memberAt } from "../../statistics/sample.ts";
import { type Even, evenChance } from "../../uncertainty/chance-generator.ts";
import { FREE_OBJECTIVES, FREE_RULING, freeOptics } from "../free-view.ts";
import type { Placing, Ruling, ViewOptics } from "../view/scene.ts";

/** What can be wrong with a bench. */
export const FAULTS = [
  "nothing",
  "changer",
  "objective",
  "turned",
  "eyepiece",
  "sign",
  "reticle",
  "coarse lines",
  "inch",
] as const;
export type Fault = (typeof FAULTS)[number];

/** What the register of a bench says, and what is really there. */
export interface FaultyBench {
  readonly fault: Fault;
  /** Magnification and aperture as entered. */
  readonly entered: (typeof FREE_OBJECTIVES)[number];
  /** µm that the certificate adds to the scale's nominal length, and that were added on entry. */
  readonly certified: number;
  readonly added: number;
  readonly optics: ViewOptics;
  readonly ruling: Ruling;
  readonly placing: Placing;
  /** How far the reticle moves against the image with the head, mm on the reticle. */
  readonly parallaxMm: number;
  /** What is wrong in its own words: `the changer stands at 1.6×`. */
  readonly because: string;
}

/** One bench in four is sound. */
const SOUND = 0.25;
/** Powers whose ratio no other fault gives. */
const CHANGERS = [1.25, 1.5, 1.6] as const;
/** The objective entered and the one in the path, as places of the turret: no other fault gives their ratios. */
const MISTAKEN = [
  [1, 3],
  [3, 1],
  [2, 0],
  [0, 2],
] as const;
/** No objective is quite what its engraving says: within 2 %. Common practice, no source. */
const MOST_OFF = 0.02;

const COARSE: Ruling = { ...FREE_RULING, pitchUm: 100, lines: 11 };
const INCH: Ruling = { ...FREE_RULING, pitchUm: 25.4, lines: 41 };

function drawnOf(fault: Fault, chance: Even): Pick<FaultyBench, "entered" | "optics" | "because"> {
  const some = <T>(values: readonly T[]): T => memberAt(values, Math.floor(chance() * values.length));
  const engraved = some([FREE_OBJECTIVES[1], FREE_OBJECTIVES[2], FREE_OBJECTIVES[3]]);
  const off = 1 + (2 * chance() - 1) * MOST_OFF;
  const through = (objective: (typeof FREE_OBJECTIVES)[number]): ViewOptics => {
    const optics = freeOptics(objective);
    return { ...optics, objective: Math.round(optics.objective * off * 1000) / 1000 };
  };
  if (fault === "changer") {
    const intermediate = some(CHANGERS);
    const because = `The changer stands at ${intermediate}×, entered is 1×: the factor comes out at 1/${intermediate} of the nominal one.`;
    return { entered: engraved, optics: { ...through(engraved), intermediate }, because };
  }
  if (fault === "objective") {
    const [as, real] = some(MISTAKEN);
    const [entered, used] = [memberAt(FREE_OBJECTIVES, as), memberAt(FREE_OBJECTIVES, real)];
    const because = `The ${used.objective}× objective is in the path, entered is ${entered.objective}×.`;
    return { entered, optics: through(used), because };
  }
  if (fault === "reticle") {
    const optics = through(engraved);
    const because = "The reticle’s scale is 5 mm long, entered is 10 mm: it fills half of the usual width.";
    return { entered: engraved, optics: { ...optics, reticle: { ...optics.reticle, lengthMm: 5 } }, because };
  }
  // Lines ten times as far apart are seen more than two at a time through a low power only.
  const entered = fault === "coarse lines" ? FREE_OBJECTIVES[1] : engraved;
  const because: Readonly<Partial<Record<Fault, string>>> = {
    nothing: "Everything is as entered: the factor is near the nominal one, and nothing moves with the head.",
    turned: "The scale is turned against the slide: its lines cross those of the slide.",
    eyepiece: "The eyepiece is not seated: the reticle moves against the image when the head moves.",
    sign: "What the certificate adds was taken away, or the other way round.",
    "coarse lines": "The slide’s lines are 100 µm apart, entered is 10 µm.",
    inch: "The slide’s lines are 25.4 µm apart, a thousandth of an inch; entered is 10 µm.",
  };
  return { entered, optics: through(entered), because: because[fault] ?? "" };
}

/** A bench of a run: from its seed and ordinal, mostly with one thing wrong. */
export function faultyBench(seed: number, ordinal: number): FaultyBench {
  const chance = evenChance(seed + ordinal * 6151);
  const within = (most: number): number => (2 * chance() - 1) * most;
  const fault =
    chance() < SOUND ? "nothing" : memberAt(FAULTS, 1 + Math.floor(chance() * (FAULTS.length - 1)));
  const drawn = drawnOf(fault, chance);
  const turnedDeg = fault === "turned" ? (chance() < 0.5 ? -1 : 1) * (9 + chance() * 10) : within(0.4);
  const certified = Math.round((1.5 + chance() * 3) * 10) / 10;
  const signed = chance() < 0.5 ? -certified : certified;
  const { optics } = drawn;
  return {
    ...drawn,
    fault,
    certified: signed,
    added: fault === "sign" ? -signed : signed,
    ruling: fault === "coarse lines" ? COARSE : fault === "inch" ? INCH : FREE_RULING,
    placing: {
      xUm: (-4500 + within(300)) / (optics.objective * optics.intermediate),
      yUm: (-700 + within(200)) / optics.objective,
      turnedDeg: Math.round(turnedDeg * 10) / 10,
      outOfFocusUm: within(0.1) / (optics.na * optics.na),
      tilt: 0,
    },
    parallaxMm: fault === "eyepiece" ? 0.25 + chance() * 0.15 : 0,
  };
}
