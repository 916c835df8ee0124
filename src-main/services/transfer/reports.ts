import type { SheetReport } from "#core/contract/records/exchange.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { sheetReport } from "../../exchange/sheet-report.ts";
import { jobOf } from "../../workbook/sheet-book/workbook.ts";
import { writeBytesWhole } from "../../workbook/spreadsheet/write-file.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Deps } from "../write-context/deps.ts";
import type { ExportRegister } from "./export-register.ts";
import { withSheetBundle } from "./sheet-bundle.ts";

const BEGINS = Buffer.from("%PDF-");

/** Writes a PDF whole or not at all. @throws Error of the file system, or when it is no PDF */
async function writePdf(path: string, pdf: Uint8Array): Promise<number> {
  if (!Buffer.from(pdf.subarray(0, BEGINS.length)).equals(BEGINS)) throw new Error("the host made no PDF");
  return writeBytesWhole(path, pdf);
}

/** A sheet as a page to read and to print. */
export function reportServices(deps: Deps, register: ExportRegister) {
  const reportOf = (sheetId: string): Promise<SheetReport> =>
    withSheetBundle(deps, sheetId, async (bundle) => sheetReport(await jobOf(bundle, { kind: "values" })));
  return handlers({
    "reports.sheet": ({ sheetId }) => reportOf(sheetId),

    "reports.print": async ({ sheetId }) => {
      const { number } = requireSheet(deps.db, sheetId);
      const { printToPdf } = deps;
      if (printToPdf === null) return { by: "window", begun: null };
      const { dataSha256 } = await reportOf(sheetId);
      const begun = await register.begin({
        call: "reports.print",
        stem: number,
        extension: ".pdf",
        rows: 0,
        write: async (path) => ({ bytes: await writePdf(path, await printToPdf()), dataSha256 }),
      });
      return { by: "host", begun };
    },
  });
}
