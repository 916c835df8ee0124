import type { Decimal } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";
import type { ClassTable } from "./class-table.ts";

/**
 * Pollen shape by P/E, in exact eighths. The source prints each inner limit for both neighbours; 2.00 and 0.50 are
 * outside the outermost classes, which it prints as “more than” and “less than”.
 */
export const POLLEN_SHAPE_CLASSES: ClassTable = {
  id: "erdtman-shape",
  name: "Pollen shape (P/E)",
  quantity: "P/E",
  source: "G. Erdtman, Pollen Morphology and Plant Taxonomy (1952), shape classes",
  standing: "from memory",
  classes: [
    { name: "peroblate", from: "0", to: "4/8", fromClosed: false, toClosed: false },
    { name: "oblate", from: "4/8", to: "6/8", fromClosed: true, toClosed: true },
    { name: "suboblate", from: "6/8", to: "7/8", fromClosed: true, toClosed: true },
    { name: "oblate spheroidal", from: "7/8", to: "8/8", fromClosed: true, toClosed: true },
    { name: "prolate spheroidal", from: "8/8", to: "8/7", fromClosed: true, toClosed: true },
    { name: "subprolate", from: "8/7", to: "8/6", fromClosed: true, toClosed: true },
    { name: "prolate", from: "8/6", to: "8/4", fromClosed: true, toClosed: true },
    { name: "perprolate", from: "8/4", to: null, fromClosed: false, toClosed: false },
  ],
};

/** P/E, polar axis over equatorial diameter. @throws InputError when either is not greater than zero */
export function polarRatio(polarAxis: Decimal, equatorialDiameter: Decimal): Decimal {
  requirePositive("polarAxis", polarAxis);
  requirePositive("equatorialDiameter", equatorialDiameter);
  return polarAxis.div(equatorialDiameter);
}
