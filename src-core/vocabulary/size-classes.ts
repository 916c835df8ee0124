/** `at-least`: all from a limit on, a large specimen in several classes; `between`: from a limit to below the next. */
export const SIZE_COUNTINGS = ["at-least", "between"] as const;
export type SizeCounting = (typeof SIZE_COUNTINGS)[number];

/** What a number of specimens is given per. */
export const AMOUNT_BASES = ["sheet", "container", "mL"] as const;
export type AmountBasis = (typeof AMOUNT_BASES)[number];
