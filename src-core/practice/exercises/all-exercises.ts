import { EXERCISES, type ExerciseName } from "../../vocabulary/practice.ts";
import type { Exercise } from "./exercise.ts";
import { lineUp } from "./line-up.ts";
import { tenths } from "./tenths.ts";

const BY_NAME: Readonly<Record<ExerciseName, Exercise>> = { tenths, "line-up": lineUp };

export const ALL_EXERCISES: readonly Exercise[] = EXERCISES.map((name) => BY_NAME[name]);

export function exerciseNamed(name: ExerciseName): Exercise {
  return BY_NAME[name];
}
