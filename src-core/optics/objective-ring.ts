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

/** The magnifications of the colour code, rising. */
const STEPS: readonly (readonly [magnification: string, RingColour])[] = [
  ["1", "black"],
  ["1.25", "black"],
  ["1.6", "brown"],
  ["2", "brown"],
  ["2.5", "brown"],
  ["4", "red"],
  ["5", "red"],
  ["6.3", "orange"],
  ["10", "yellow"],
  ["16", "light green"],
  ["20", "light green"],
  ["25", "dark green"],
  ["32", "dark green"],
  ["40", "light blue"],
  ["50", "light blue"],
  ["60", "dark blue"],
  ["80", "dark blue"],
  ["100", "white"],
];

/**
 * Ring colour of an objective by its magnification, after the colour code of ISO 8578:2012, from memory: 1 and 1.25
 * black, 1.6 to 2.5 brown, 4 and 5 red, 6.3 orange, 10 yellow, 16 and 20 light green, 25 and 32 dark green, 40 and 50
 * light blue, 60 to 80 dark blue, 100 and above white. Between two steps the one nearer by ratio gives the colour, the
 * lower at a tie.
 * @throws InputError `magnification` when not greater than zero
 */
export function objectiveRing(magnification: Decimal): RingColour {
  requirePositive("magnification", magnification);
  const ratioTo = (step: string): Decimal => {
    const by = magnification.div(step);
    return by.lessThan(1) ? decimal(1).div(by) : by;
  };
  const nearest = STEPS.reduce((best, one) => (ratioTo(one[0]).lessThan(ratioTo(best[0])) ? one : best));
  return nearest[1];
}
