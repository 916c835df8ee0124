/** Exercises at the drawn eyepiece, in the order a beginner takes them. */
export const EXERCISES = ["tenths", "line-up", "find-fault", "choose", "measure", "count"] as const;
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
  "turned",
  "size",
  "sizes",
  "bias-10",
  "scatter-10",
  "bias-20",
  "scatter-20",
  "bias-40",
  "scatter-40",
  "slips",
  "other-edge",
  "recovery",
  "missed",
  "twice",
  "edges",
  "dirt",
  "first-as-second",
  "second-as-first",
  "right",
  "reasons",
  "looks",
  "seconds",
] as const;
export type PracticeFigureName = (typeof PRACTICE_FIGURES)[number];
