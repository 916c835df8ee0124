import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError } from "../quantity/input-error.ts";
import { LOUVEAUX, NO_SOURCE } from "../vocabulary/literature.ts";
import type { ClassTable } from "./class-table.ts";

/** Frequency of a pollen type in honey, per cent of the pollen counted. Nothing is said of 15 to 16 %. */
export const HONEY_FREQUENCY_CLASSES: ClassTable = {
  id: "honey-frequency",
  name: "Honey pollen frequency",
  quantity: "share of the pollen counted, %",
  source: LOUVEAUX,
  standing: "published",
  classes: [
    { name: "minor", from: "0", to: "3", fromClosed: true, toClosed: false },
    { name: "important minor", from: "3", to: "15", fromClosed: true, toClosed: true },
    { name: "secondary", from: "16", to: "45", fromClosed: true, toClosed: true },
    { name: "predominant", from: "45", to: "100", fromClosed: false, toClosed: true },
  ],
};

/** The variant that prints 3–16 %, so that 16 % is on a limit instead of above a gap. */
export const HONEY_FREQUENCY_CLASSES_TO_16: ClassTable = {
  ...HONEY_FREQUENCY_CLASSES,
  id: "honey-frequency-to-16",
  name: "Honey pollen frequency, important minor to 16 %",
  source: `${LOUVEAUX}, as some texts print it (3–16 %)`,
  classes: HONEY_FREQUENCY_CLASSES.classes.map((entry) =>
    entry.name === "important minor" ? { ...entry, to: "16" } : entry,
  ),
};

/** Pollen grains in 10 g of honey. Inner limits are printed for both neighbours. */
export const HONEY_ABSOLUTE_CLASSES: ClassTable = {
  id: "honey-absolute",
  name: "Honey absolute pollen class",
  quantity: "pollen grains per 10 g",
  source: "A. Maurizio: classes by pollen grains in 10 g",
  standing: "from memory",
  classes: [
    { name: "I", from: "0", to: "20000", fromClosed: true, toClosed: false },
    { name: "II", from: "20000", to: "100000", fromClosed: true, toClosed: true },
    { name: "III", from: "100000", to: "500000", fromClosed: true, toClosed: true },
    { name: "IV", from: "500000", to: "1000000", fromClosed: true, toClosed: true },
    { name: "V", from: "1000000", to: null, fromClosed: false, toClosed: false },
  ],
};

/** Honeydew elements over pollen grains of nectar plants. */
export const HONEYDEW_CLASSES: ClassTable = {
  id: "honeydew-ratio",
  name: "Honeydew elements to pollen",
  quantity: "honeydew elements / pollen grains",
  source: `${NO_SOURCE}: a ratio above 3 is predominantly honeydew`,
  standing: "common practice",
  classes: [
    { name: "not predominantly honeydew", from: "0", to: "3", fromClosed: true, toClosed: true },
    { name: "predominantly honeydew", from: "3", to: null, fromClosed: false, toClosed: false },
  ],
};

/** Share of a pollen type in per cent, exact: 135 of 300 is 45. @throws InputError when nothing was counted or the part exceeds the whole */
export function pollenShare(counted: Decimal, of: Decimal): Decimal {
  if (!of.greaterThan(0)) throw new InputError("of", "must be greater than zero: nothing was counted");
  if (counted.lessThan(0)) throw new InputError("counted", "must not be negative");
  if (counted.greaterThan(of)) throw new InputError("counted", "must not be more than the pollen counted");
  return counted.times(decimal(100)).div(of);
}
