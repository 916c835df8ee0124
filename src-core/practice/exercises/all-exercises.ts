import { EXERCISES, type ExerciseName } from "../../vocabulary/practice.ts";
import { choose } from "./choose.ts";
import { count } from "./count.ts";
import type { Exercise } from "./exercise.ts";
import { findFault } from "./find-fault.ts";
import { lineUp } from "./line-up.ts";
import { measure } from "./measure.ts";
import { tenths } from "./tenths.ts";

/** Every version of every exercise, newest last: an attempt is scored by the one it was begun under. */
const VERSIONS: Readonly<Record<ExerciseName, readonly [...Exercise[], Exercise]>> = {
  tenths: [tenths],
  "line-up": [lineUp],
  "find-fault": [findFault],
  choose: [choose],
  measure: [measure],
  count: [count],
};

/** An exercise as it is begun today. */
export function exerciseNamed(name: ExerciseName): Exercise {
  return VERSIONS[name].at(-1) as Exercise;
}

/** The exercises there are, in the order a beginner takes them. */
export const ALL_EXERCISES: readonly Exercise[] = EXERCISES.map(exerciseNamed);

/** The exercise that an attempt was begun under. @throws RangeError for a version that there never was */
export function exerciseOf(attempt: { readonly exercise: ExerciseName; readonly version: number }): Exercise {
  const found = VERSIONS[attempt.exercise].find(({ version }) => version === attempt.version);
  if (found) return found;
  throw new RangeError(`no version ${attempt.version} of the exercise ${attempt.exercise}`);
}
