import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError } from "../../quantity/input-error.ts";
import { memberAt, standardDeviation } from "../../statistics/sample.ts";
import { evenChance } from "../../uncertainty/chance-generator.ts";
import { FREE_OBJECTIVES, freeOptics } from "../free-view.ts";
import { micrometresPerMm } from "../view/scene.ts";
import type { Exercise } from "./exercise.ts";
import { scoreReadings } from "./reading-score.ts";

const TASKS = 40;
/** Lines are set between these divisions, so that neighbours stand to both sides. */
const LOWEST = 5;
const HIGHEST = 95;
/** The truth is set to thousandths of a division, ten times finer than anybody reads. */
const STEPS = 1000;
/** The line stands up to this far from where the eye looks, mm on the reticle. */
const ASIDE_MM = 1.2;

/** No reading depends on the microscope, only how the line looks. */
const OPTICS = freeOptics(FREE_OBJECTIVES[3]);
const LINE_WIDTH_UM = 0.6;
const LINE_LENGTH_UM = 60;
/** A division of the reticle is about as wide on the screen as it looks through an eyepiece. */
const WIDTH_MM = 4.2;

interface Place {
  readonly divisions: Decimal;
  readonly aside: number;
}

/** Where the line of each task stands: evenly spread, so that every tenth is as frequent as every other. */
function places(seed: number): readonly Place[] {
  const chance = evenChance(seed);
  return Array.from({ length: TASKS }, () => ({
    divisions: decimal(Math.floor(LOWEST * STEPS + chance() * (HIGHEST - LOWEST) * STEPS)).div(STEPS),
    aside: (2 * chance() - 1) * ASIDE_MM,
  }));
}

/** Reads one line between divisions, forty times. */
export const tenths: Exercise = {
  name: "tenths",
  version: 1,
  title: "Read tenths",
  does: "Read where the line crosses the scale, to a tenth of a division.",
  why: "How well you estimate tenths is the largest part of the uncertainty of most sizes.",
  tasks: TASKS,
  way: "typed",
  slide: "still",
  fields: [
    {
      name: "reading",
      label: "Reading",
      unit: "div",
      hint: "To a tenth, as 43.7. Enter takes it and shows the next line.",
      choices: null,
      carried: null,
    },
  ],
  notes: [],
  takes: "Take",
  headline: ["bias", "scatter", "digits"],
  errors: {
    unit: "div",
    words: "Error in divisions. Broken lines: twice the scatter that is asked for.",
    guide: ({ mostScatter }) => 2 * Number(mostScatter),
  },

  task(seed, ordinal) {
    const { divisions, aside } = memberAt(places(seed), ordinal - 1);
    const { reticle } = OPTICS;
    const atMm = (divisions.toNumber() / reticle.divisions - 0.5) * reticle.lengthMm;
    const view = {
      optics: OPTICS,
      ruling: {
        pitchUm: 1,
        lines: 1,
        lineWidthUm: LINE_WIDTH_UM,
        lengthsUm: [LINE_LENGTH_UM, LINE_LENGTH_UM, LINE_LENGTH_UM],
      },
      placing: {
        xUm: atMm * micrometresPerMm(OPTICS),
        yUm: -LINE_LENGTH_UM * 0.9,
        turnedDeg: 0,
        outOfFocusUm: 0,
        tilt: 0,
      },
    } as const;
    return {
      facts: [],
      looks: [
        {
          words: "one line across the reticle scale",
          view,
          lookAtMm: [atMm + aside, 0],
          widthMm: WIDTH_MM,
        },
      ],
    };
  },

  readAnswer({ reading = "" }) {
    const { value, places: typedPlaces } = readDecimal("typed.reading", reading);
    if (value.lessThan(0) || value.greaterThan(OPTICS.reticle.divisions)) {
      throw new InputError("typed.reading", `must lie on the scale, 0 to ${OPTICS.reticle.divisions}`);
    }
    if (typedPlaces !== 1)
      throw new InputError("typed.reading", "needs one digit after the point: read to tenths");
  },

  review: null,

  /** Both edges are read as this one line was, each by itself: √2·s. What they are off by alike cancels. */
  pairScatter(seed, answers) {
    const truths = places(seed);
    const errors = answers.map(({ typed }, index) =>
      readDecimal("reading", typed.reading ?? "").value.minus(memberAt(truths, index).divisions),
    );
    return { deviation: standardDeviation(errors).times(decimal(2).sqrt()), settings: errors.length };
  },

  score(seed, answers, criteria) {
    const truths = places(seed);
    return scoreReadings(
      answers.map(({ typed, seconds }, index) => ({
        reading: readDecimal("reading", typed.reading ?? "").value,
        truth: memberAt(truths, index).divisions,
        seconds,
      })),
      criteria,
    );
  },
};
