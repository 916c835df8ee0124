/**
 * How a measured value is held against its limits (JCGM 106:2012, from memory): `simple-acceptance`: the value itself lies
 * within them (8.2); `guarded-acceptance`: it lies within them by at least its expanded uncertainty, w = U (8.3.2).
 */
export const DECISION_RULES = ["simple-acceptance", "guarded-acceptance"] as const;
export type DecisionRule = (typeof DECISION_RULES)[number];
