import { basename } from "node:path";
import type { ExportChoice, ExportFormat, ExportProgress } from "#core/contract/records/exchange.ts";
import type { HandlersOf } from "../dispatch/handlers.ts";
import { Refusal } from "../dispatch/refusals.ts";
import { writeCsv } from "../exchange/csv-file.ts";
import { writeJson } from "../exchange/json-file.ts";
import type { Pace } from "../workbook/pace.ts";
import type { SheetBundle } from "../workbook/sheet-bundle-type.ts";
import { type WrittenFile, writeJobWorkbook } from "../workbook/workbook.ts";
import type { Deps } from "./deps.ts";
import { orUnwritable, placeFor } from "./export-place.ts";
import { withSheetBundles } from "./sheet-bundle.ts";
import { requireSheet } from "./sheets.ts";

/** Finished exports are remembered until this many newer ones have been made. */
const MOST_REMEMBERED = 50;

const EXTENSIONS: Readonly<Record<ExportFormat, string>> = {
  "live workbook": ".xlsx",
  "values workbook": "-values.xlsx",
  csv: ".csv",
  json: ".json",
};

type Writer = (bundles: readonly SheetBundle[], path: string, pace: Pace) => Promise<WrittenFile>;

function writerOf({ format, paper }: ExportChoice): Writer {
  if (format === "csv") return writeCsv;
  if (format === "json") return writeJson;
  const kind = format === "live workbook" ? "live" : "values";
  return (bundles, path, pace) => writeJobWorkbook(bundles, { kind, paper, pace }, path);
}

interface Running {
  progress: ExportProgress;
  readonly stop: AbortController;
}

/** `S-0003`, or `S-0003 and 2 more`. */
function stemOf(numbers: readonly string[]): string {
  const [first = "sheets"] = numbers;
  return numbers.length === 1 ? first : `${first} and ${numbers.length - 1} more`;
}

function troubleOf(deps: Deps, error: unknown): { message: string; hint: string } {
  if (error instanceof Refusal) return { message: error.message, hint: error.hint ?? "" };
  const number = deps.fault("exports.begin", error);
  return {
    message: `Something went wrong in the program (fault ${number}). The export was not written.`,
    hint: `Try again; if it happens again, report fault ${number} with the file faults.log of the bench folder.`,
  };
}

/** Exports that go on while the window does other things: begun, looked after and stopped by separate calls. */
export function exportJobServices(
  deps: Deps,
): HandlersOf<"exports.begin" | "exports.status" | "exports.cancel"> {
  const jobs = new Map<string, Running>();

  function require(exportId: string): Running {
    const found = jobs.get(exportId);
    if (found) return found;
    throw new Refusal("export.unknown", "That export is not known any more.", {
      field: "exportId",
      hint: "Begin it again.",
    });
  }

  function remember(job: Running): void {
    jobs.set(job.progress.exportId, job);
    for (const [id, old] of jobs) {
      if (jobs.size <= MOST_REMEMBERED) return;
      if (old.progress.state !== "writing") jobs.delete(id);
    }
  }

  async function write(
    job: Running,
    choice: ExportChoice,
    path: string,
    closing: AbortSignal,
  ): Promise<void> {
    const pace: Pace = {
      signal: AbortSignal.any([job.stop.signal, closing]),
      wrote(rows) {
        job.progress = { ...job.progress, rows: job.progress.rows + rows };
      },
    };
    try {
      const written = await orUnwritable(path, () =>
        withSheetBundles(deps, choice.sheetIds, (bundles) => writerOf(choice)(bundles, path, pace)),
      );
      const fileName = basename(path);
      const file = { fileName, path, ...written, download: deps.downloadAddress(fileName) };
      job.progress = { ...job.progress, state: "done", rows: job.progress.ofRows, file };
    } catch (error) {
      if (pace.signal.aborted) job.progress = { ...job.progress, state: "cancelled" };
      else job.progress = { ...job.progress, state: "failed", trouble: troubleOf(deps, error) };
    }
  }

  return {
    "exports.begin": async (choice) => {
      const sheets = choice.sheetIds.map((id) => requireSheet(deps.db, id));
      const stem = stemOf(sheets.map((sheet) => sheet.number));
      // Asked before the snapshot is taken: a dialog may stay open for an hour.
      const path = await orUnwritable(deps.paths.exportFolder, () =>
        placeFor(deps, stem, EXTENSIONS[choice.format]),
      );
      if (path === null) return null;
      const job: Running = {
        stop: new AbortController(),
        progress: {
          exportId: deps.ids.next(),
          state: "writing",
          fileName: basename(path),
          rows: 0,
          ofRows: sheets.reduce((sum, sheet) => sum + sheet.rowCount, 0),
          file: null,
          trouble: null,
        },
      };
      remember(job);
      deps.background((closing) => write(job, choice, path, closing));
      return job.progress;
    },
    "exports.status": ({ exportId }) => require(exportId).progress,
    "exports.cancel": ({ exportId }) => {
      const job = require(exportId);
      job.stop.abort();
      return job.progress;
    },
  };
}
