import type { PracticeCriteria, PracticeResult } from "../../contract/records/practice.ts";
import type { Decimal } from "../../quantity/decimal.ts";
import type { ExerciseName, PracticeFigureName } from "../../vocabulary/practice.ts";
import type { View } from "../view/render-view.ts";

/** One way to look at what a task shows. */
export interface Look {
  /** What is looked at: `the left end`. */
  readonly words: string;
  readonly view: View;
  /** Where the eye rests, mm on the reticle from the field's middle. */
  readonly lookAtMm: readonly [number, number];
  /** How much of the reticle the picture's width shows, mm. */
  readonly widthMm: number;
}

/** One part of an answer. */
export interface AnswerField {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  readonly hint: string;
  /** What there is to choose from, by what is kept of it; null: a number is typed. */
  readonly choices: readonly Choice[] | null;
  /** What it holds at first, where it then stays from answer to answer as in a row of Measure; null: empty each time. */
  readonly carried: string | null;
}

export interface Choice {
  readonly value: string;
  readonly words: string;
}

/** Something that is known of a task beside its pictures. */
export type Fact = readonly [name: string, value: string];

/** What was right at a task, said once the attempt has ended. */
export interface Review {
  readonly right: boolean;
  readonly given: string;
  readonly truth: string;
  readonly because: string;
}

/** Things of one sort in all answers together, by what they were taken for. */
export interface CountedAs {
  readonly what: string;
  readonly first: number;
  readonly second: number;
  readonly notCounted: number;
}

/** What one answer is given to. */
export interface Task {
  readonly facts: readonly Fact[];
  /** The looks there are, the one shown first before the others. */
  readonly looks: readonly Look[];
}

/** An answer as typed, by field, and how long it took. */
export interface TimedAnswer {
  readonly typed: Readonly<Record<string, string>>;
  readonly seconds: Decimal;
}

/** How far a series of settings scatters, two edges to each: s, div, and how many there were. */
export interface PairScatter {
  readonly deviation: Decimal;
  readonly settings: number;
}

/** What the errors of the answers are in, and how they are plotted in their order. */
export interface ErrorPlot {
  readonly unit: "div" | "%" | "objects";
  readonly words: string;
  /** Where the broken lines stand, to either side of zero. */
  readonly guide: (criteria: PracticeCriteria) => number;
}

/**
 * An exercise: what is shown, what is answered, how it is scored. Tasks come from a seed, answers are taken as typed,
 * and the score needs nothing else.
 */
export interface Exercise {
  readonly name: ExerciseName;
  /** Counts up when tasks or score change; attempts keep theirs, and the old definition stays in the list. */
  readonly version: number;
  readonly title: string;
  /** What the person does, in a sentence. */
  readonly does: string;
  /** Why it is worth doing. */
  readonly why: string;
  /** Number of tasks. */
  readonly tasks: number;
  /** How an answer is given: typed into fields, chosen question by question, pressed object by object. */
  readonly way: "typed" | "chosen" | "pressed";
  /** Whether the person moves, turns and focuses the slide. */
  readonly slide: "still" | "moved";
  /** What the person answers, in the order it is asked. */
  readonly fields: readonly AnswerField[];
  /** What the program notes with each answer: looks taken, the last of them, by how many degrees the slide was turned. */
  readonly notes: readonly ("looks" | "look" | "turned")[];
  /** Words of the button that takes an answer. */
  readonly takes: string;
  /** The figures that a list of results shows. */
  readonly headline: readonly PracticeFigureName[];
  /** Null where answers are right or wrong. */
  readonly errors: ErrorPlot | null;
  task(seed: number, ordinal: number): Task;
  /** @throws InputError naming the field of an answer that cannot be taken */
  readAnswer(typed: Readonly<Record<string, string>>): void;
  /** What the answers say of the scatter of a setting of two edges; left out where they say nothing of it. */
  pairScatter?(seed: number, answers: readonly TimedAnswer[]): PairScatter;
  /** What there was against what it was counted as; left out where nothing is counted. */
  countedAs?(seed: number, answers: readonly Pick<TimedAnswer, "typed">[]): readonly CountedAs[];
  /** @param answers all of them, in order */
  score(seed: number, answers: readonly TimedAnswer[], criteria: PracticeCriteria): PracticeResult;
  /** Null where the errors say it all. */
  readonly review: ((seed: number, ordinal: number, typed: TimedAnswer["typed"]) => Review) | null;
}
