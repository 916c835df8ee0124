/** Exercises at the drawn eyepiece, in the order a beginner takes them. */
export const EXERCISES = ["tenths", "line-up", "find-fault", "choose"] as const;
export type ExerciseName = (typeof EXERCISES)[number];

/** What an attempt is measured by. */
export const PRACTICE_FIGURES = [
  "bias",
  "scatter",
  "digits",
  "learning",
  "factor",
  "settings",
  "en",
  "span",
  "right",
  "reasons",
  "looks",
  "seconds",
] as const;
export type PracticeFigureName = (typeof PRACTICE_FIGURES)[number];
