import {
  type AdvisedMicrometer,
  RANK_REASONS,
  type RankReason,
} from "../../calibration/micrometer-adviser.ts";
import { memberAt } from "../../statistics/sample.ts";
import { freeOptics } from "../free-view.ts";
import type { Ruling } from "../view/scene.ts";
import type { Choice, Exercise } from "./exercise.ts";
import { CHOOSING_DAY, type MicrometerChoice, micrometerChoice } from "./micrometer-choice.ts";
import { requireChoice, scoreRights, shareFigure } from "./share-score.ts";

const TASKS = 12;
/** The whole scale and some of the field beside it. */
const WIDTH_MM = 11;

const SLIDES: readonly Choice[] = ["1", "2", "3", "4"].map((value) => ({ value, words: `Slide ${value}` }));
const REASON_WORDS: Readonly<Record<RankReason, string>> = {
  certificate: "A certificate in date",
  span: "It covers more of the scale",
  uncertainty: "Fewer per cent by certificate",
  lines: "Closer lines to choose from",
};
const REASONS: readonly Choice[] = RANK_REASONS.map((value) => ({ value, words: REASON_WORDS[value] }));

function factOf({
  scaleLengthUm,
  divisions,
  expandedUncertainty,
  certificateDueOn,
}: AdvisedMicrometer): string {
  const length = scaleLengthUm.greaterThanOrEqualTo(1000)
    ? `${scaleLengthUm.div(1000)} mm`
    : `${scaleLengthUm} µm`;
  const certificate = expandedUncertainty
    ? `U = ${expandedUncertainty} µm, due ${certificateDueOn}`
    : "no certificate";
  return `${length} in ${divisions} parts; ${certificate}`;
}

/** As engraved, with lines that leave gaps between them. */
function rulingOf({ scaleLengthUm, divisions }: AdvisedMicrometer, objective: number): Ruling {
  const pitchUm = scaleLengthUm.div(divisions).toNumber();
  const lineWidthUm = Math.min(2, 0.3 * pitchUm);
  return {
    pitchUm,
    lines: divisions + 1,
    lineWidthUm,
    // As long in every picture: between the reticle's own lines and its numerals.
    lengthsUm: [600 / objective, 750 / objective, 900 / objective],
  };
}

function isRight({ ranked, reason }: MicrometerChoice, typed: Readonly<Record<string, string>>) {
  const slide = typed.slide === memberAt(ranked, 0).id;
  return { slide, reason: slide && typed.reason === reason };
}

/** Picks the stage micrometer for an objective, and says why. */
export const choose: Exercise = {
  name: "choose",
  version: 1,
  title: "Choose the slide",
  does: "Choose the slide to calibrate this objective with, and say why.",
  why: "Certificate in date, then the span covered, then its uncertainty over that length, then closer lines: common practice, no source.",
  tasks: TASKS,
  way: "chosen",
  slide: "still",
  fields: [
    { name: "slide", label: "Which slide?", unit: "", hint: "", choices: SLIDES, carried: null },
    {
      name: "reason",
      label: "What puts it before the next best?",
      unit: "",
      hint: "",
      choices: REASONS,
      carried: null,
    },
  ],
  notes: [],
  takes: "Take",
  headline: ["right", "reasons"],
  errors: null,

  task(seed, ordinal) {
    const { objective, slides } = micrometerChoice(seed, ordinal);
    const optics = freeOptics(objective);
    return {
      facts: [
        ["Objective", `${objective.objective}× / ${objective.na}`],
        ["Reticle", "10 mm in 100 divisions"],
        ["Nominal factor", `${100 / objective.objective} µm/div`],
        ["Today", CHOOSING_DAY],
        ...slides.map((slide) => [slide.name, factOf(slide)] as const),
      ],
      looks: slides.map((slide) => ({
        words: slide.name,
        view: {
          optics,
          ruling: rulingOf(slide, objective.objective),
          placing: {
            xUm: -5000 / objective.objective,
            yUm: -700 / objective.objective,
            turnedDeg: 0,
            outOfFocusUm: 0,
            tilt: 0,
          },
        },
        lookAtMm: [0, 0],
        widthMm: WIDTH_MM,
      })),
    };
  },

  readAnswer({ slide, reason }) {
    requireChoice("slide", slide, SLIDES);
    requireChoice("reason", reason, REASONS);
  },

  score(seed, answers, criteria) {
    const rights = answers.map(({ typed }, index) => isRight(micrometerChoice(seed, index + 1), typed));
    return scoreRights(
      answers.map(({ seconds }, index) => ({ right: memberAt(rights, index).slide, seconds })),
      [
        shareFigure(
          "reasons",
          rights.map(({ reason }) => reason),
          null,
        ),
      ],
      criteria,
    );
  },

  review(seed, ordinal, typed) {
    const task = micrometerChoice(seed, ordinal);
    const words = (slide: string | undefined, reason: string | undefined): string =>
      `Slide ${slide}: ${REASON_WORDS[reason as RankReason]}`;
    const { slide, reason } = isRight(task, typed);
    return {
      right: slide && reason,
      given: words(typed.slide, typed.reason),
      truth: words(memberAt(task.ranked, 0).id, task.reason),
      because: task.ranked.map(({ name, reasons }) => `${name} ${reasons.slice(0, 2).join(", ")}.`).join(" "),
    };
  },
};
