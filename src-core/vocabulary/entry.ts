/** How a dimension is read: at both of its edges, or as a number of divisions with one edge on a line. */
export const ENTRY_KINDS = ["two-edges", "direct"] as const;
export type EntryKind = (typeof ENTRY_KINDS)[number];

/** Readings of one dimension of one specimen. */
export const MOST_REPEATS = 10;
