import type { ExportFormat, Paper } from "#core/contract/records/exchange.ts";
import type { Tally } from "#core/contract/records/tally.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { writeTallyCsv, writeTallyJson } from "../../exchange/tally-files.ts";
import type { Pace } from "../../pace/pace.ts";
import type { TallyBundle } from "../../workbook/count-book/tally-bundle-type.ts";
import { writeTallyWorkbook } from "../../workbook/count-book/tally-workbook.ts";
import type { WrittenFile } from "../../workbook/sheet-book/workbook.ts";
import { requireTally } from "../counts/tally-ground.ts";
import type { Deps } from "../write-context/deps.ts";
import { EXPORT_EXTENSIONS } from "../write-context/export-place.ts";
import type { ExportRegister } from "./export-register.ts";
import { withTallyBundle } from "./tally-bundle.ts";

interface TallyChoice {
  readonly format: ExportFormat;
  readonly paper: Paper;
}

function write(
  bundle: TallyBundle,
  { format, paper }: TallyChoice,
  path: string,
  pace: Pace,
): Promise<WrittenFile> {
  if (format === "csv") return writeTallyCsv(bundle, path, pace);
  if (format === "json") return writeTallyJson(bundle, path, pace);
  return writeTallyWorkbook(
    bundle,
    { kind: format === "live workbook" ? "live" : "values", paper, pace },
    path,
  );
}

/** The lines that tell of fields and of events; presses made while the place is chosen come on top. */
function rowsOf({ lastSequence, currentField }: Tally, format: ExportFormat): number {
  if (format === "csv") return currentField;
  return format === "json" ? lastSequence : currentField + lastSequence;
}

/** A count as a workbook, a table or its records; looked after and stopped as every export. */
export function tallyExportServices(deps: Deps, register: ExportRegister): HandlersOf<"tallies.export"> {
  return {
    "tallies.export": async ({ tallyId, ...choice }) => {
      const tally = requireTally(deps.db, tallyId);
      return register.begin({
        call: "tallies.export",
        stem: tally.number,
        extension: EXPORT_EXTENSIONS[choice.format],
        rows: rowsOf(tally, choice.format),
        write: (path, pace) => withTallyBundle(deps, tallyId, (bundle) => write(bundle, choice, path, pace)),
      });
    },
  };
}
