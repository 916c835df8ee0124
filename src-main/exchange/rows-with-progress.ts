import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { type Progress, withProgress } from "../long-work/progress.ts";
import type { SheetBundle } from "../workbook/sheet-book/sheet-bundle-type.ts";

/** The rows of a sheet with progress for whoever waits. */
export function rowsWithProgress(bundle: SheetBundle, progress: Progress): AsyncGenerator<SpecimenRow> {
  return withProgress(bundle.rows(), progress);
}
