import { basename } from "node:path";
import type { ExportFormat, Paper } from "#core/contract/records/exchange.ts";
import type { HandlersOf } from "../dispatch/handlers.ts";
import { writeTallyCsv, writeTallyJson } from "../exchange/tally-files.ts";
import type { TallyBundle } from "../workbook/tally-bundle-type.ts";
import { writeTallyWorkbook } from "../workbook/tally-workbook.ts";
import type { WrittenFile } from "../workbook/workbook.ts";
import type { Deps } from "./deps.ts";
import { orUnwritable, placeFor } from "./export-place.ts";
import { withTallyBundle } from "./tally-bundle.ts";
import { requireTally } from "./tally-ground.ts";

const EXTENSIONS: Readonly<Record<ExportFormat, string>> = {
  "live workbook": ".xlsx",
  "values workbook": "-values.xlsx",
  csv: ".csv",
  json: ".json",
};

function write(bundle: TallyBundle, format: ExportFormat, paper: Paper, path: string): Promise<WrittenFile> {
  if (format === "csv") return writeTallyCsv(bundle, path);
  if (format === "json") return writeTallyJson(bundle, path);
  return writeTallyWorkbook(bundle, { kind: format === "live workbook" ? "live" : "values", paper }, path);
}

/** A count as a workbook, a table or its records, where the host says; null when the person cancels. */
export function tallyExportServices(deps: Deps): HandlersOf<"tallies.export"> {
  return {
    "tallies.export": async ({ tallyId, format, paper }) => {
      const { number } = requireTally(deps.db, tallyId);
      // Asked before the snapshot is taken: a dialog may stay open for an hour.
      const path = await orUnwritable(deps.paths.exportFolder, () =>
        placeFor(deps, number, EXTENSIONS[format]),
      );
      if (path === null) return null;
      const written = await orUnwritable(path, () =>
        withTallyBundle(deps, tallyId, (bundle) => write(bundle, format, paper, path)),
      );
      const fileName = basename(path);
      return { fileName, path, ...written, download: deps.downloadAddress(fileName) };
    },
  };
}
