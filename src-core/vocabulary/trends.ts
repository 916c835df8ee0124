/**
 * Tests for special causes (Nelson 1984, J. Quality Technology 16:237). T1: one point beyond 3σ. T2: nine in a row on
 * one side. T3: six in a row rising or falling. T4: fourteen in a row alternating. T5: two of three beyond 2σ on one
 * side. T6: four of five beyond 1σ on one side. T7: fifteen in a row within 1σ. T8: eight in a row beyond 1σ, on either
 * side. Together T1–T4 give a false signal in about 1 of 100 points, with T5 and T6 in about 2 of 100.
 */
export const RUN_RULES = ["T1", "T2", "T3", "T4", "T5", "T6", "T7", "T8"] as const;
export type RunRule = (typeof RUN_RULES)[number];

/**
 * What a history of n points can bear (thresholds: design choice; the formulas have their own sources). 1: only the
 * tolerance; 2: E_n between the two; 3–7: prediction limits; 8–19: individuals chart, preliminary; from 20: its limits
 * frozen (ASTM E2587 asks for about 20 to 25 points).
 */
export const LIMIT_KINDS = ["tolerance", "pair", "prediction", "preliminary", "frozen"] as const;
export type LimitKind = (typeof LIMIT_KINDS)[number];
