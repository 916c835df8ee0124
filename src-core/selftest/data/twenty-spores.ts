import type { Spore } from "../../methods/spore-quotient.ts";
import { decimals } from "../rows-of-cases.ts";

/** Invented spores, µm: length and width of each in the same place. */
export const SPORE_LENGTHS = decimals(
  "8.1 8.4 8.6 8.6 8.8 8.9 9.0 9.0 9.1 9.2 9.2 9.3 9.4 9.5 9.6 9.7 9.8 10.0 10.3 10.9",
);
export const SPORE_WIDTHS = decimals(
  "5.6 5.8 5.5 6.0 5.9 6.1 5.9 6.2 6.0 6.3 6.1 6.0 6.4 6.2 6.5 6.3 6.4 6.6 6.5 6.8",
);

export const TWENTY_SPORES: readonly Spore[] = SPORE_LENGTHS.flatMap((length, index) => {
  const width = SPORE_WIDTHS[index];
  return width ? [{ length, width }] : [];
});
