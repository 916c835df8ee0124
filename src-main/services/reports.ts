import type { HandlersOf } from "../dispatch/handlers.ts";
import { sheetReport } from "../exchange/sheet-report.ts";
import { jobOf } from "../workbook/workbook.ts";
import type { Deps } from "./deps.ts";
import { withSheetBundle } from "./sheet-bundle.ts";

/** A sheet as a page to read and to print. */
export function reportServices(deps: Deps): HandlersOf<"reports.sheet"> {
  return {
    "reports.sheet": ({ sheetId }) =>
      withSheetBundle(deps, sheetId, async (bundle) => sheetReport(await jobOf(bundle, { kind: "values" }))),
  };
}
