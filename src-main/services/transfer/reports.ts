import { basename } from "node:path";
import type { SheetReport } from "#core/contract/records/exchange.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { sheetReport } from "../../exchange/sheet-report.ts";
import { jobOf } from "../../workbook/sheet-book/workbook.ts";
import { writeBytesWhole } from "../../workbook/spreadsheet/write-file.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Deps } from "../write-context/deps.ts";
import { mapWriteErrors, placeFor } from "../write-context/export-place.ts";
import { withSheetBundle } from "./sheet-bundle.ts";

const BEGINS = Buffer.from("%PDF-");

/** Writes a PDF whole or not at all. @throws Error of the file system, or when it is no PDF */
async function writePdf(path: string, pdf: Uint8Array): Promise<number> {
  if (!Buffer.from(pdf.subarray(0, BEGINS.length)).equals(BEGINS)) throw new Error("the host made no PDF");
  return writeBytesWhole(path, pdf);
}

/** A sheet as a page to read and to print. */
export function reportServices(deps: Deps): HandlersOf<"reports.sheet" | "reports.print"> {
  const reportOf = (sheetId: string): Promise<SheetReport> =>
    withSheetBundle(deps, sheetId, async (bundle) => sheetReport(await jobOf(bundle, { kind: "values" })));
  return {
    "reports.sheet": ({ sheetId }) => reportOf(sheetId),

    "reports.print": async ({ sheetId }) => {
      const { number } = requireSheet(deps.db, sheetId);
      const { printToPdf } = deps;
      if (printToPdf === null) return { by: "window", file: null };
      const { dataSha256 } = await reportOf(sheetId);
      const path = await mapWriteErrors(deps.paths.exportFolder, () => placeFor(deps, number, ".pdf"));
      if (path === null) return { by: "host", file: null };
      const bytes = await mapWriteErrors(path, async () => writePdf(path, await printToPdf()));
      const fileName = basename(path);
      const file = { fileName, path, bytes, dataSha256, download: deps.downloadAddress(fileName) };
      return { by: "host", file };
    },
  };
}
