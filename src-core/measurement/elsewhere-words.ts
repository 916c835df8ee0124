import type { SizesElsewhere } from "../contract/records/sheet.ts";

/** What stands with every size that was converted elsewhere. */
export const NO_CHAIN =
  "No reading of this bench is behind it: no factor, no certificate and no uncertainty, so no chain leads from it to the SI.";

/** `25.3 µm, converted elsewhere by the notebook's own factor of 1998`. */
export function elsewhereWords(typed: string, { convertedBy }: Pick<SizesElsewhere, "convertedBy">): string {
  return `${typed} µm, converted elsewhere by ${convertedBy}`;
}

/** What a row carries of a dimension that was converted elsewhere, as typed; null: nothing. */
export function typedElsewhere(elsewhere: SizesElsewhere | undefined, dimension: string): string | null {
  return elsewhere?.sizes.find((one) => one.dimension === dimension)?.typed ?? null;
}
