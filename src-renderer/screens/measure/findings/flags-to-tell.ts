import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { byWeight, type FlagKey } from "#core/vocabulary/flag.ts";
import type { SheetFindings } from "./sheet-findings.ts";

/** The flags of a stored value that are worth saying of it: heaviest first, none that is said once for the sheet. */
export function flagsToTell(
  { label }: Pick<SpecimenRow, "label">,
  { dimension, size, flags }: Pick<Measurement, "dimension" | "size" | "flags">,
  findings: SheetFindings,
): FlagKey[] {
  const apart = size !== null && findings.isApart(label, dimension, decimal(size.value));
  return byWeight(apart ? [...flags, "outside-sheet"] : flags).filter(
    (flag) => !findings.isShared(dimension, flag),
  );
}
