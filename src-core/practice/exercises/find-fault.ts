import { decimal } from "../../quantity/decimal.ts";
import { InputError } from "../../quantity/input-error.ts";
import { memberAt } from "../../statistics/sample.ts";
import { FREE_RULING } from "../free-view.ts";
import type { Choice, Exercise, Fact } from "./exercise.ts";
import { FAULTS, type Fault, type FaultyBench, faultyBench } from "./faulty-bench.ts";
import { looksFigure, requireChoice, scoreRights } from "./share-score.ts";

const TASKS = 12;
const WORDS: Readonly<Record<Fault, string>> = {
  nothing: "Nothing is wrong",
  changer: "The magnification changer was left in",
  objective: "Another objective is in the path",
  turned: "The scale is turned against the slide",
  eyepiece: "The eyepiece is not seated",
  sign: "The certificate’s correction has the wrong sign",
  reticle: "The reticle’s scale is not as long as entered",
  "coarse lines": "The slide’s lines are ten times as far apart",
  inch: "The slide is ruled in thousandths of an inch",
};
/** As they stand on the keys. */
const SHORT: Readonly<Record<Fault, string>> = {
  nothing: "Nothing",
  changer: "Changer left in",
  objective: "Another objective",
  turned: "Scale is turned",
  eyepiece: "Eyepiece not seated",
  sign: "Sign of certificate",
  reticle: "Length of reticle",
  "coarse lines": "Lines ten times apart",
  inch: "Slide ruled in inches",
};
const CHOICES: readonly Choice[] = FAULTS.map((value) => ({ value, words: SHORT[value] }));

/** Where to look: ends of the scale for its readings, and the head moved for what moves with it. */
const LOOKS = [
  { words: "the whole field", lookAtMm: [0, 0], widthMm: 16, head: 0 },
  { words: "the left half", lookAtMm: [-2.5, 0], widthMm: 6.5, head: 0 },
  { words: "the right half", lookAtMm: [2.5, 0], widthMm: 6.5, head: 0 },
  { words: "head to the left", lookAtMm: [0, 0], widthMm: 4.4, head: -1 },
  { words: "head to the right", lookAtMm: [0, 0], widthMm: 4.4, head: 1 },
] as const;

const NOMINAL_UM = FREE_RULING.pitchUm * (FREE_RULING.lines - 1);

const signed = (value: number): string => `${value < 0 ? "−" : "+"} ${Math.abs(value).toFixed(1)}`;

function factsOf({ entered, certified, added }: FaultyBench): readonly Fact[] {
  return [
    ["Objective", `${entered.objective}× / ${entered.na}`],
    ["Changer", "1×"],
    ["Reticle", "10 mm in 100 divisions"],
    ["Slide", `1 mm, a line every ${FREE_RULING.pitchUm} µm`],
    ["Nominal factor", `${100 / entered.objective} µm/div`],
    ["Certificate", `length of the scale: ${NOMINAL_UM} µm ${signed(certified)} µm`],
    ["Length entered", `${(NOMINAL_UM + added).toFixed(1)} µm`],
  ];
}

/** Names what is wrong with a bench, from what is entered and what is seen. */
export const findFault: Exercise = {
  name: "find-fault",
  version: 1,
  title: "Find the fault",
  does: "Say what is wrong with this bench: one thing, or nothing.",
  why: "Most wrong factors come from a few mistakes: compare what is entered with what you see. One bench in four here is sound.",
  tasks: TASKS,
  way: "chosen",
  slide: "still",
  fields: [{ name: "fault", label: "What is wrong?", unit: "", hint: "", choices: CHOICES, carried: null }],
  notes: ["looks"],
  takes: "Take",
  headline: ["right", "looks"],
  errors: null,

  task(seed, ordinal) {
    const bench = faultyBench(seed, ordinal);
    const { ruling, placing, optics, parallaxMm } = bench;
    return {
      facts: factsOf(bench),
      looks: LOOKS.map(({ head, ...look }) => ({
        ...look,
        view: { ruling, placing, optics: { ...optics, parallaxMm: head * parallaxMm } },
      })),
    };
  },

  readAnswer({ fault, looks = "" }) {
    requireChoice("fault", fault, CHOICES);
    if (!/^[1-9]$/.test(looks) || Number(looks) > LOOKS.length)
      throw new InputError("typed.looks", `must be a whole number from 1 to ${LOOKS.length}`);
  },

  score(seed, answers, criteria) {
    return scoreRights(
      answers.map(({ typed, seconds }, index) => ({
        right: typed.fault === faultyBench(seed, index + 1).fault,
        seconds,
      })),
      [looksFigure(answers.map(({ typed }) => decimal(typed.looks ?? "1")))],
      criteria,
    );
  },

  review(seed, ordinal, { fault }) {
    const bench = faultyBench(seed, ordinal);
    const given = memberAt(FAULTS, FAULTS.indexOf(fault as Fault));
    return {
      right: given === bench.fault,
      given: WORDS[given],
      truth: WORDS[bench.fault],
      because: bench.because,
    };
  },
};
