import { existsSync } from "node:fs";
import type { ExportChoice } from "#core/contract/records/exchange.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { writeCsv } from "../../exchange/csv-file.ts";
import { writeJson } from "../../exchange/json-file.ts";
import type { Progress } from "../../long-work/progress.ts";
import type { SheetBundle } from "../../workbook/sheet-book/sheet-bundle-type.ts";
import { type WrittenFile, writeJobWorkbook } from "../../workbook/sheet-book/workbook.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Deps } from "../write-context/deps.ts";
import { EXPORT_EXTENSIONS } from "../write-context/export-place.ts";
import type { ExportRegister } from "./export-register.ts";
import { withSheetBundles } from "./sheet-bundle.ts";

type Writer = (bundles: readonly SheetBundle[], path: string, progress: Progress) => Promise<WrittenFile>;

function writerOf({ format, paper }: ExportChoice): Writer {
  if (format === "csv") return writeCsv;
  if (format === "json") return writeJson;
  const kind = format === "live workbook" ? "live" : "values";
  return (bundles, path, progress) => writeJobWorkbook(bundles, { kind, paper, progress }, path);
}

/** `S-0003`, or `S-0003 and 2 more`. */
function stemOf(numbers: readonly string[]): string {
  const [first = "sheets"] = numbers;
  return numbers.length === 1 ? first : `${first} and ${numbers.length - 1} more`;
}

/** Sheets as one file; and what becomes of every export that goes on behind the window. */
export function exportJobServices(deps: Deps, register: ExportRegister) {
  return handlers({
    "exports.begin": async (choice) => {
      const sheets = choice.sheetIds.map((id) => requireSheet(deps.db, id));
      return register.begin({
        call: "exports.begin",
        stem: stemOf(sheets.map((sheet) => sheet.number)),
        extension: EXPORT_EXTENSIONS[choice.format],
        rows: sheets.reduce((sum, sheet) => sum + sheet.rowCount, 0),
        write: (path, progress) =>
          withSheetBundles(deps, choice.sheetIds, (bundles) => writerOf(choice)(bundles, path, progress)),
      });
    },
    "exports.status": ({ exportId }) => register.progressOf(exportId),
    "exports.showInFolder": async ({ exportId }) => {
      const { file, fileName } = register.progressOf(exportId);
      if (deps.showInFolder === null || file === null || !existsSync(file.path)) {
        throw new Refusal("folder.unavailable", `The folder of ${fileName} cannot be shown from here.`, {
          hint:
            file === null
              ? "The file has not been written."
              : `It was written as ${file.path}. If it is not there any more, export it again.`,
        });
      }
      await deps.showInFolder(file.path);
      return {};
    },
    "exports.cancel": ({ exportId }) => register.stop(exportId),
  });
}
