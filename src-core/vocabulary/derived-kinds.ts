import { BIOVOLUME_SHAPES } from "../methods/biovolume-shapes.ts";

/** Quantities that need no shape: first/second, π/4·d², the largest and the mean of the sizes named. */
export const PLAIN_DERIVED_KINDS = ["ratio", "circle-area", "largest", "mean"] as const;

/** What can be computed from the sizes of one row; a shape's id stands for its volume. */
export const DERIVED_KINDS: readonly [string, ...string[]] = [
  ...PLAIN_DERIVED_KINDS,
  ...BIOVOLUME_SHAPES.map((shape) => shape.id),
];
