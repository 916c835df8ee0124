export const REPEATABILITY_ORIGINS = ["person", "bench", "default", "repeat readings", "practice"] as const;
/**
 * What a pooled repeatability was learnt from: a person's settings, those of the bench, nothing yet (`default`, a stated
 * choice), a person's repeat readings of specimens, or a person's practice at the drawn eyepiece.
 */
export type RepeatabilityOrigin = (typeof REPEATABILITY_ORIGINS)[number];

/** Those that are taken only where somebody asks for them. */
export const CHOSEN_REPEATABILITIES = ["repeat readings", "practice"] as const;
export type ChosenRepeatability = (typeof CHOSEN_REPEATABILITIES)[number];
