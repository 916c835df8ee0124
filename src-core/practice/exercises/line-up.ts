import type { PracticeCriteria, PracticeResult } from "../../contract/records/practice.ts";
import { type Decimal, decimal, sumOf } from "../../quantity/decimal.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError } from "../../quantity/input-error.ts";
import { memberAt } from "../../statistics/sample.ts";
import { evenChance } from "../../uncertainty/chance-generator.ts";
import { FREE_OBJECTIVES, FREE_RULING, freeOptics } from "../free-view.ts";
import { type Placing, trueFactorUm, type ViewOptics } from "../view/scene.ts";
import type { Exercise } from "./exercise.ts";
import { type JudgedSetting, scoreSettings } from "./setting-score.ts";

const TASKS = 5;
/** How far the objective's true magnification may lie from its engraving: common practice, no source. */
const MOST_OFF = 0.04;
/** Objectives through which a millimetre of the slide shows more than a few lines. */
const OBJECTIVES = FREE_OBJECTIVES.slice(1);
/** Where the eye rests: on the whole scale, on its left half, on its right half. */
const LOOKS = [
  { words: "the whole scale", lookAtMm: [0, 0], widthMm: 11 },
  { words: "the left end", lookAtMm: [-3.2, 0], widthMm: 4.4 },
  { words: "the right end", lookAtMm: [3.2, 0], widthMm: 4.4 },
] as const;
const MOST_TURNED_DEG = 180;
const SCALE_END_UM = FREE_RULING.pitchUm * (FREE_RULING.lines - 1);

/** The microscope of a run: one of the objectives, not quite what it says. */
function opticsOf(seed: number): ViewOptics {
  const chance = evenChance(seed);
  const objective = memberAt(OBJECTIVES, Math.floor(chance() * OBJECTIVES.length));
  const off = 1 + (2 * chance() - 1) * MOST_OFF;
  return { ...freeOptics(objective), objective: Math.round(objective.objective * off * 1000) / 1000 };
}

/** Where the slide lies at the start of a setting: aside, turned and out of focus. */
function placingOf(seed: number, ordinal: number, optics: ViewOptics): Placing {
  const chance = evenChance(seed + ordinal * 7919);
  const within = (most: number): number => (2 * chance() - 1) * most;
  return {
    xUm: (-4500 + within(800)) / optics.objective,
    yUm: (-900 + within(400)) / optics.objective,
    turnedDeg: Math.round(within(3) * 10) / 10,
    outOfFocusUm: (within(0.4) + 0.5) / (optics.na * optics.na),
    tilt: 0,
  };
}

/** @throws InputError naming the field that cannot be taken */
function setting(typed: Readonly<Record<string, string>>): Omit<JudgedSetting, "seconds"> {
  const number = (field: string): Decimal => readDecimal(`typed.${field}`, typed[field] ?? "").value;
  const [reticleFrom, reticleTo, lineFrom, lineTo] = [
    number("reticleFrom"),
    number("reticleTo"),
    number("lineFrom"),
    number("lineTo"),
  ];
  for (const [field, value] of [
    ["reticleFrom", reticleFrom],
    ["reticleTo", reticleTo],
  ] as const) {
    if (value.lessThan(0) || value.greaterThan(100))
      throw new InputError(`typed.${field}`, "must lie on the scale, 0 to 100 div");
  }
  for (const [field, value] of [
    ["lineFrom", lineFrom],
    ["lineTo", lineTo],
  ] as const) {
    if (value.lessThan(0) || value.greaterThan(SCALE_END_UM) || !value.mod(FREE_RULING.pitchUm).isZero())
      throw new InputError(
        `typed.${field}`,
        `must be a line of the slide: every ${FREE_RULING.pitchUm} µm from 0 to ${SCALE_END_UM}`,
      );
  }
  if (!reticleTo.greaterThan(reticleFrom))
    throw new InputError("typed.reticleTo", "must lie right of the left reading");
  if (!lineTo.greaterThan(lineFrom)) throw new InputError("typed.lineTo", "must lie right of the left line");
  const turnedDeg = number("turned");
  if (turnedDeg.abs().greaterThan(MOST_TURNED_DEG))
    throw new InputError("typed.turned", `must lie within ${MOST_TURNED_DEG}° of upright`);
  return { divisions: reticleTo.minus(reticleFrom), lengthUm: lineTo.minus(lineFrom), turnedDeg };
}

/** Lines the drawn micrometer up with the scale, five times, and types each setting as on Calibrate. */
export const lineUp: Exercise = {
  name: "line-up",
  version: 1,
  title: "Line up",
  does: "Focus, turn the slide straight, and read a line near each end of the scale.",
  why: "The factor of an objective is as good as these few settings. What the objective says is not to be trusted.",
  tasks: TASKS,
  way: "typed",
  slide: "moved",
  fields: [
    { name: "reticleFrom", label: "Scale, left", unit: "div", hint: "", choices: null, carried: null },
    {
      name: "lineFrom",
      label: "Line of the slide, left",
      unit: "µm",
      hint: "",
      choices: null,
      carried: null,
    },
    { name: "reticleTo", label: "Scale, right", unit: "div", hint: "", choices: null, carried: null },
    { name: "lineTo", label: "Line of the slide, right", unit: "µm", hint: "", choices: null, carried: null },
  ],
  notes: ["turned"],
  takes: "Take the setting",
  headline: ["factor", "settings", "en"],
  errors: {
    unit: "%",
    words: "Error of each setting in per cent. Broken lines: the error that is asked for.",
    guide: ({ mostFactorError }) => Number(mostFactorError),
  },

  task(seed, ordinal) {
    const optics = opticsOf(seed);
    const view = { optics, ruling: FREE_RULING, placing: placingOf(seed, ordinal, optics) };
    return { facts: [], looks: LOOKS.map((look) => ({ ...look, view })) };
  },

  readAnswer(typed) {
    setting(typed);
  },

  review: null,

  /** About the line through the origin, D = b·L: s = √(Σ(D − bL)²/(n − 1)), as of a calibration. */
  pairScatter(_seed, answers) {
    const pairs = answers.map(({ typed }) => setting(typed));
    const squares = sumOf(pairs.map(({ lengthUm }) => lengthUm.pow(2)));
    const slope = sumOf(pairs.map(({ lengthUm, divisions }) => lengthUm.times(divisions))).div(squares);
    const residuals = pairs.map(({ lengthUm, divisions }) => divisions.minus(slope.times(lengthUm)).pow(2));
    return {
      deviation: sumOf(residuals)
        .div(pairs.length - 1)
        .sqrt(),
      settings: pairs.length,
    };
  },

  score(seed, answers, criteria: PracticeCriteria): PracticeResult {
    return scoreSettings(
      answers.map(({ typed, seconds }) => ({ ...setting(typed), seconds })),
      decimal(trueFactorUm(opticsOf(seed)).toFixed(9)),
      criteria,
    );
  },
};
