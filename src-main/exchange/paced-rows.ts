import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { type Pace, paced } from "../pace/pace.ts";
import type { SheetBundle } from "../workbook/sheet-book/sheet-bundle-type.ts";

/** The rows of a sheet at the pace of whoever waits. */
export function pacedRows(bundle: SheetBundle, pace: Pace): AsyncGenerator<SpecimenRow> {
  return paced(bundle.rows(), pace);
}
