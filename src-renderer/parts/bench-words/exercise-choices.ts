import { ALL_EXERCISES } from "#core/practice/exercises/all-exercises.ts";
import type { ExerciseName } from "#core/vocabulary/practice.ts";

/** The exercises there are, to be chosen from. */
export const EXERCISE_CHOICES = ALL_EXERCISES.map(({ name, title }) => ({ value: name, words: title }));

/** Names of exercises as a field of check boxes holds them, by spaces. */
export const exercisesOf = (names: string): ExerciseName[] =>
  ALL_EXERCISES.map(({ name }) => name).filter((name) => names.split(" ").includes(name));
