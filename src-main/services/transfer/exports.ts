import { basename } from "node:path";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { writeWorkbook } from "../../workbook/sheet-book/workbook.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Deps } from "../write-context/deps.ts";
import { orUnwritable, placeFor } from "../write-context/export-place.ts";
import { withSheetBundle } from "./sheet-bundle.ts";

/** A sheet as a workbook, where the host says; null when the person cancels. */
export function exportServices(deps: Deps): HandlersOf<"exports.workbook"> {
  return {
    "exports.workbook": async ({ sheetId, kind }) => {
      const { number } = requireSheet(deps.db, sheetId);
      const stem = `${number}${kind === "values" ? "-values" : ""}`;
      // Asked before the snapshot is taken: a dialog may stay open for an hour.
      const path = await orUnwritable(deps.paths.exportFolder, () => placeFor(deps, stem, ".xlsx"));
      if (path === null) return null;
      const written = await orUnwritable(path, () =>
        withSheetBundle(deps, sheetId, (bundle) => writeWorkbook(bundle, kind, path)),
      );
      const fileName = basename(path);
      return { fileName, path, ...written, download: deps.downloadAddress(fileName) };
    },
  };
}
