import { type Decimal, decimal } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";

export const RING_COLOURS = [
  "black",
  "brown",
  "red",
  "orange",
  "yellow",
  "light green",
  "dark green",
  "light blue",
  "dark blue",
  "white",
] as const;
/** The word for the colour of an objective's magnification ring. */
export type RingColour = (typeof RING_COLOURS)[number];

/** Highest magnification of each ring, between the standard's preferred steps. */
const UPPER_LIMITS: readonly (readonly [string, RingColour])[] = [
  ["1.4", "black"],
  ["2.2", "brown"],
  ["5.5", "red"],
  ["7", "orange"],
  ["13", "yellow"],
  ["22", "light green"],
  ["36", "dark green"],
  ["55", "light blue"],
  ["90", "dark blue"],
];

/**
 * Ring colour of an objective by its magnification: 1 black, 2 brown, 4 and 5 red, 6.3 orange, 10 yellow, 16 and 20
 * light green, 25 and 32 dark green, 40 and 50 light blue, 60 to 80 dark blue, 100 and above white. After the colour
 * code of ISO 8578:2012, from memory; magnifications between the steps take the nearer step's colour.
 * @throws InputError `magnification` when not greater than zero
 */
export function objectiveRing(magnification: Decimal): RingColour {
  requirePositive("magnification", magnification);
  const found = UPPER_LIMITS.find(([limit]) => magnification.lessThanOrEqualTo(decimal(limit)));
  return found ? found[1] : "white";
}
