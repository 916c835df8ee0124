import { TOP_LEFT_OUT } from "../../counting/methods/edge-rules.ts";
import { countedNoun } from "../../quantity/counted-noun.ts";
import { InputError } from "../../quantity/input-error.ts";
import { FREE_OBJECTIVES, freeOptics } from "../free-view.ts";
import { NO_RULING } from "../view/render-view.ts";
import type { ViewOptics } from "../view/scene.ts";
import { COUNTING_POWER, chamberLines, countField, FRAME_MM, isOnChamber } from "./count-field.ts";
import { scoreCounts } from "./count-score.ts";
import { countedAs, wrongWords } from "./counted-as.ts";
import type { Exercise, TimedAnswer } from "./exercise.ts";
import { type FieldOutcome, matchPresses, type Press } from "./press-matching.ts";

const TASKS = 10;
const MOST_PRESSES = 50;
/** The frame and some of the field around it. */
const WIDTH_MM = 11;
const HALF_UM = (FRAME_MM / 2 / COUNTING_POWER) * 1000;
/** Beyond the frame by half an object: the middles of those on its edges. */
const MOST_UM = HALF_UM + 12;

/** Without a square of its own. */
const OPTICS: ViewOptics = {
  ...freeOptics(FREE_OBJECTIVES[2]),
  reticle: { divisions: 0, lengthMm: FRAME_MM, lineWidthMm: 0.02, numeralEvery: 1 },
};
const FRAMED: ViewOptics = { ...OPTICS, reticle: { ...OPTICS.reticle, frameMm: FRAME_MM } };

/** The presses of a field in their order as they are kept: kind and place, `1@-34 2@12`. */
export function textOfPresses(presses: readonly Press[]): string {
  return presses.map(({ kind, atUm }) => `${kind}@${Math.round(atUm)}`).join(" ");
}

/** @throws InputError `typed.presses` */
function readPresses(text: string): readonly Press[] {
  const parts = text.split(" ").filter((part) => part !== "");
  if (parts.length > MOST_PRESSES)
    throw new InputError("typed.presses", `are too many for one field: at most ${MOST_PRESSES}`);
  return parts.map((part) => {
    const [, kind, at] = /^([12])@(-?\d{1,3})$/.exec(part) ?? [];
    if ((kind !== "1" && kind !== "2") || at === undefined || Math.abs(Number(at)) > MOST_UM)
      throw new InputError("typed.presses", "must be presses of kind 1 or 2 within the frame");
    return { kind, atUm: Number(at) };
  });
}

const outcomeOf = (seed: number, ordinal: number, { presses = "" }: TimedAnswer["typed"]): FieldOutcome =>
  matchPresses(countField(seed, ordinal), readPresses(presses));

/** Counts ten fields of two kinds that look alike, object by object as the hairline meets them. */
export const count: Exercise = {
  name: "count",
  version: 1,
  title: "Count",
  does: "Press 1 or 2 when the line meets the middle of an object.",
  why: "Misses, double counts and edges shift every density; two kinds that look alike shift every share.",
  tasks: TASKS,
  way: "pressed",
  slide: "still",
  fields: [{ name: "presses", label: "Presses", unit: "", hint: "", choices: null, carried: null }],
  notes: [],
  takes: "Next field",
  headline: ["recovery", "missed", "edges"],
  errors: {
    unit: "objects",
    words: "Pressed more or fewer than there were, field by field. Broken lines: one object.",
    guide: () => 1,
  },
  review(seed, ordinal, typed) {
    const outcome = outcomeOf(seed, ordinal, typed);
    const wrong = wrongWords(outcome);
    return {
      right: wrong.length === 0,
      given: countedNoun(outcome.pressed, "press", "presses"),
      truth: countedNoun(outcome.truth, "object", "objects"),
      because: wrong.length === 0 ? "" : `${wrong.join(", ")}.`,
    };
  },

  countedAs: (seed, answers) =>
    countedAs(answers.map(({ typed }, index) => outcomeOf(seed, index + 1, typed))),

  task(seed, ordinal) {
    const onChamber = isOnChamber(ordinal);
    const objects = countField(seed, ordinal).map(({ specimen }) => specimen);
    return {
      facts: [
        ["Field", onChamber ? "the square of the chamber’s grid" : "the square in the eyepiece"],
        ["Kind 1", "round, thick wall, smooth"],
        ["Kind 2", "slimmer, thin wall, short spines"],
        ["Not counted", "dirt: dark, without a wall"],
        ["Edges", TOP_LEFT_OUT.name],
      ],
      looks: [
        {
          words: "a square with objects of two kinds",
          view: {
            optics: onChamber ? OPTICS : FRAMED,
            ruling: NO_RULING,
            specimens: onChamber ? [...chamberLines(), ...objects] : objects,
            placing: { xUm: 0, yUm: 0, turnedDeg: 0, outOfFocusUm: 0, tilt: 0 },
          },
          lookAtMm: [0, 0],
          widthMm: WIDTH_MM,
        },
      ],
    };
  },

  readAnswer({ presses = "" }) {
    readPresses(presses);
  },

  score(seed, answers, criteria) {
    return scoreCounts(
      answers.map(({ typed, seconds }, index) => ({ outcome: outcomeOf(seed, index + 1, typed), seconds })),
      criteria,
    );
  },
};
