import type { PracticeCriteria, PracticeResult } from "../../contract/records/practice.ts";
import type { Decimal } from "../../quantity/decimal.ts";
import type { ExerciseName } from "../../vocabulary/practice.ts";
import type { View } from "../view/render-view.ts";

/** A picture to answer: what is seen, and where the eye looks. */
export interface DrawnTask {
  readonly view: View;
  /** What part of the field the eye rests on, mm on the reticle from its middle. */
  readonly lookAtMm: readonly [number, number];
}

/** An answer as typed, by field, and how long it took. */
export interface TimedAnswer {
  readonly typed: Readonly<Record<string, string>>;
  readonly seconds: Decimal;
}

/** An exercise: tasks from a seed, answers as typed, and a score that needs nothing else. */
export interface Exercise {
  readonly name: ExerciseName;
  /** Counts up when tasks or score change; attempts keep theirs. */
  readonly version: number;
  readonly title: string;
  /** What the person does, in a sentence. */
  readonly does: string;
  /** Why it is worth doing. */
  readonly why: string;
  /** Number of tasks. */
  readonly tasks: number;
  /** Names of the fields of an answer: all of them and no others are taken. */
  readonly fields: readonly string[];
  task(seed: number, ordinal: number): DrawnTask;
  /** @throws InputError naming the field of an answer that cannot be taken */
  readAnswer(typed: Readonly<Record<string, string>>): void;
  /** @param answers all of them, in order */
  score(seed: number, answers: readonly TimedAnswer[], criteria: PracticeCriteria): PracticeResult;
}
