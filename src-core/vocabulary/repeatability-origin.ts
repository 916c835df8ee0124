export const REPEATABILITY_ORIGINS = ["person", "bench", "default"] as const;
/** Whose settings a pooled repeatability was learnt from; `default`: nobody's yet, a stated choice. */
export type RepeatabilityOrigin = (typeof REPEATABILITY_ORIGINS)[number];
