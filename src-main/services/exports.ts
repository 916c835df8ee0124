import { mkdir } from "node:fs/promises";
import { basename, join } from "node:path";
import type { HandlersOf } from "../dispatch/handlers.ts";
import { Refusal } from "../dispatch/refusals.ts";
import { failureKind } from "../store/store-failure.ts";
import { writeWorkbook } from "../workbook/workbook.ts";
import type { Deps } from "./deps.ts";
import { withSheetBundle } from "./sheet-bundle.ts";

async function placeFor(deps: Deps, suggested: string): Promise<string | null> {
  if (deps.chooseExportPath) return deps.chooseExportPath(suggested);
  await mkdir(deps.paths.exportFolder, { recursive: true });
  return join(deps.paths.exportFolder, suggested);
}

/** A sheet as a workbook, where the host says; null when the person cancels. */
export function exportServices(deps: Deps): HandlersOf<"exports.workbook"> {
  return {
    "exports.workbook": ({ sheetId, kind }) =>
      withSheetBundle(deps, sheetId, async (bundle) => {
        const suggested = `${bundle.sheet.number}${kind === "values" ? "-values" : ""}.xlsx`;
        try {
          const path = await placeFor(deps, suggested);
          if (path === null) return null;
          const fileName = basename(path);
          const { bytes, dataSha256 } = await writeWorkbook(bundle, kind, path);
          return { fileName, path, bytes, dataSha256, download: deps.downloadAddress(fileName) };
        } catch (error) {
          if (failureKind(error) === null) throw error;
          throw new Refusal(
            "file.unwritable",
            `${suggested} could not be written (${(error as Error).message}).`,
            {
              hint: "Close the file if it is open elsewhere, or choose another place.",
            },
          );
        }
      }),
  };
}
