import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { createBreather } from "../services/breather.ts";
import type { Pace } from "../workbook/pace.ts";
import type { SheetBundle } from "../workbook/sheet-bundle-type.ts";

/** Rows told together to whoever waits. */
const ROWS_PER_REPORT = 100;

/** The rows of a sheet, one at a time; lets other calls through, tells how far it is and stops when asked. */
export async function* pacedRows(bundle: SheetBundle, pace: Pace): AsyncGenerator<SpecimenRow> {
  const breathe = createBreather();
  let unreported = 0;
  for (const row of bundle.rows()) {
    yield row;
    unreported += 1;
    if (unreported === ROWS_PER_REPORT) {
      pace.wrote(unreported);
      unreported = 0;
    }
    await breathe();
    pace.signal.throwIfAborted();
  }
  pace.wrote(unreported);
}
