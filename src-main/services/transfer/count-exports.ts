import type { Count } from "#core/contract/records/count.ts";
import type { ExportFormat, Paper } from "#core/contract/records/exchange.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { writeCountCsv, writeCountJson } from "../../exchange/count-files.ts";
import type { Progress } from "../../long-work/progress.ts";
import type { CountBundle } from "../../workbook/count-book/count-bundle-type.ts";
import { writeCountWorkbook } from "../../workbook/count-book/count-workbook.ts";
import type { WrittenFile } from "../../workbook/sheet-book/workbook.ts";
import { requireCount } from "../counts/count-lookup.ts";
import type { Deps } from "../write-context/deps.ts";
import { EXPORT_EXTENSIONS } from "../write-context/export-place.ts";
import { withCountBundle } from "./count-bundle.ts";
import type { ExportRegister } from "./export-register.ts";

interface CountChoice {
  readonly format: ExportFormat;
  readonly paper: Paper;
}

function write(
  bundle: CountBundle,
  { format, paper }: CountChoice,
  path: string,
  progress: Progress,
): Promise<WrittenFile> {
  if (format === "csv") return writeCountCsv(bundle, path, progress);
  if (format === "json") return writeCountJson(bundle, path, progress);
  return writeCountWorkbook(
    bundle,
    { kind: format === "live workbook" ? "live" : "values", paper, progress },
    path,
  );
}

/** The lines that tell of fields and of events; presses made while the place is chosen come on top. */
function rowsOf({ lastSequence, currentField }: Count, format: ExportFormat): number {
  if (format === "csv") return currentField;
  return format === "json" ? lastSequence : currentField + lastSequence;
}

/** A count as a workbook, a table or its records; looked after and stopped as every export. */
export function countExportServices(deps: Deps, register: ExportRegister) {
  return handlers({
    "counts.export": async ({ countId, ...choice }) => {
      const count = requireCount(deps.db, countId);
      return register.begin({
        call: "counts.export",
        stem: count.number,
        extension: EXPORT_EXTENSIONS[choice.format],
        rows: rowsOf(count, choice.format),
        write: (path, progress) =>
          withCountBundle(deps, countId, (bundle) => write(bundle, choice, path, progress)),
      });
    },
  });
}
