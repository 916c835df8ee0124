import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError } from "../../quantity/input-error.ts";
import { NO_RULING } from "../view/render-view.ts";
import type { Exercise, TimedAnswer } from "./exercise.ts";
import { calibratedTurret, measuredSpecimen, objectiveOf, TURRET } from "./measured-specimen.ts";
import { type JudgedRow, scoreSizes } from "./size-score.ts";

const TASKS = 20;
const NAMES = TURRET.map(({ objective }) => String(objective));
/** The whole scale and some of the field beside it. */
const WIDTH_MM = 11;

interface ReadRow {
  readonly objective: string;
  readonly look: string;
  readonly divisions: Decimal;
}

/** @throws InputError naming the field that cannot be taken */
function rowOf(typed: TimedAnswer["typed"]): ReadRow {
  const objective = readDecimal("typed.objective", typed.objective ?? "").value.toString();
  if (!NAMES.includes(objective))
    throw new InputError("typed.objective", `must be one of the turret: ${NAMES.join(", ")}`);
  const [from, to] = (["from", "to"] as const).map((field) => {
    const { value, places } = readDecimal(`typed.${field}`, typed[field] ?? "");
    if (value.lessThan(0) || value.greaterThan(100))
      throw new InputError(`typed.${field}`, "must lie on the scale, 0 to 100 div");
    if (places !== 1)
      throw new InputError(`typed.${field}`, "needs one digit after the point: read to tenths");
    return value;
  }) as [Decimal, Decimal];
  if (!to.greaterThan(from)) throw new InputError("typed.to", "must lie right of the left edge");
  const look = (typed.look ?? "").replace(/×$/, "");
  if (!NAMES.includes(look)) throw new InputError("typed.look", "must be an objective of the turret");
  return { objective, look, divisions: to.minus(from) };
}

/** Measures twenty drawn specimens, choosing the objective. */
export const measure: Exercise = {
  name: "measure",
  version: 1,
  title: "Measure",
  does: "Read both outer edges: with the wall, without spines or apiculus.",
  why: "Bring the object to the scale, turn it along, focus, and choose the power: the entry does not know what is in the path.",
  tasks: TASKS,
  way: "typed",
  slide: "moved",
  fields: [
    {
      name: "objective",
      label: "Objective entered",
      unit: "×",
      hint: "10, 20 or 40; stays from row to row.",
      choices: null,
      carried: "20",
    },
    { name: "from", label: "Left edge", unit: "div", hint: "", choices: null, carried: null },
    { name: "to", label: "Right edge", unit: "div", hint: "", choices: null, carried: null },
  ],
  notes: ["look"],
  takes: "Take the row",
  headline: ["size", "sizes", "slips"],
  errors: {
    unit: "%",
    words: "Error of each size in per cent. Broken lines: twice the scatter that is asked for.",
    guide: ({ mostSizeScatter }) => 2 * Number(mostSizeScatter),
  },
  review: null,

  task(seed, ordinal) {
    const { words, specimen, placing } = measuredSpecimen(seed, ordinal);
    const turret = calibratedTurret(seed);
    return {
      facts: [
        ["Measure", words],
        ["µm for a division", turret.map(({ name, factorUm }) => `${name}×: ${factorUm}`).join("; ")],
      ],
      looks: turret.map(({ name, optics }) => ({
        words: `${name}×`,
        view: { ruling: NO_RULING, specimens: [specimen], placing, optics },
        lookAtMm: [0, 0],
        widthMm: WIDTH_MM,
      })),
    };
  },

  readAnswer(typed) {
    rowOf(typed);
  },

  score(seed, answers, criteria) {
    const turret = calibratedTurret(seed);
    const rows = answers.map(({ typed, seconds }, index): JudgedRow => {
      const { objective, look, divisions } = rowOf(typed);
      const { name, factorUm } = objectiveOf(turret, objective);
      const { lengthUm, otherEdgesUm } = measuredSpecimen(seed, index + 1);
      return {
        objective: name,
        slip: objective !== look,
        factorUm,
        divisions: decimal(divisions),
        trueUm: lengthUm,
        otherEdgesUm,
        seconds,
      };
    });
    return scoreSizes(rows, criteria);
  },
};
