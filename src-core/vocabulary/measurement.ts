export const EDGE_KINDS = ["same-sense", "independent", "none"] as const;
/** How the two edge errors go together: both the same way (c = 2), independently (c = 1 each), or left out. */
export type EdgeKind = (typeof EDGE_KINDS)[number];
