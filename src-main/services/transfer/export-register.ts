import { basename } from "node:path";
import type { CallName } from "#core/contract/calls.ts";
import type { ExportProgress } from "#core/contract/records/exchange.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { Progress } from "../../long-work/progress.ts";
import type { WrittenFile } from "../../workbook/sheet-book/workbook.ts";
import type { Deps } from "../write-context/deps.ts";
import { mapWriteErrors, placeFor } from "../write-context/export-place.ts";

/** Finished exports are remembered until this many newer ones have been made. */
const MOST_REMEMBERED = 50;

/** A file to be written behind the window's back. */
export interface ExportOrder {
  /** The call that asks for it; a fault is filed under its name. */
  readonly call: CallName;
  /** Its name without the extension. */
  readonly stem: string;
  readonly extension: string;
  /** Rows that `write` will tell of. */
  readonly rows: number;
  /** Writes the whole file or none. @throws when stopped, and errors of the file system */
  write(path: string, progress: Progress): Promise<WrittenFile>;
}

/** Exports that go on while the window does other things: begun, looked after and stopped by separate calls. */
export interface ExportRegister {
  /** Asks for the place where the host asks, and begins to write; null when the person cancels. */
  begin(order: ExportOrder): Promise<ExportProgress | null>;
  /** @throws Refusal `export.unknown` */
  progressOf(exportId: string): ExportProgress;
  /** @throws Refusal `export.unknown` */
  stop(exportId: string): ExportProgress;
}

interface Running {
  progress: ExportProgress;
  readonly stop: AbortController;
}

function troubleOf(deps: Deps, call: CallName, error: unknown): { message: string; hint: string } {
  if (error instanceof Refusal) return { message: error.message, hint: error.hint ?? "" };
  const number = deps.fault(call, error);
  return {
    message: `Something went wrong in the program (fault ${number}). The export was not written.`,
    hint: `Try again; if it happens again, report fault ${number} with the file faults.log of the bench folder.`,
  };
}

export function createExportRegister(deps: Deps): ExportRegister {
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

  async function run(job: Running, order: ExportOrder, path: string, closing: AbortSignal): Promise<void> {
    const progress: Progress = {
      signal: AbortSignal.any([job.stop.signal, closing]),
      advance(rows) {
        job.progress = { ...job.progress, rows: job.progress.rows + rows };
      },
    };
    try {
      const written = await mapWriteErrors(path, () => order.write(path, progress));
      const fileName = basename(path);
      const file = { fileName, path, ...written, download: deps.downloadAddress(fileName) };
      job.progress = { ...job.progress, state: "done", rows: job.progress.ofRows, file };
    } catch (error) {
      if (progress.signal.aborted) job.progress = { ...job.progress, state: "cancelled" };
      else job.progress = { ...job.progress, state: "failed", trouble: troubleOf(deps, order.call, error) };
    }
  }

  return {
    async begin(order) {
      // Asked before the snapshot is taken: a dialog may stay open for an hour.
      const path = await mapWriteErrors(deps.paths.exportFolder, () =>
        placeFor(deps, order.stem, order.extension),
      );
      if (path === null) return null;
      const job: Running = {
        stop: new AbortController(),
        progress: {
          exportId: deps.ids.next(),
          state: "writing",
          fileName: basename(path),
          rows: 0,
          ofRows: order.rows,
          file: null,
          trouble: null,
        },
      };
      remember(job);
      deps.background((closing) => run(job, order, path, closing));
      return job.progress;
    },
    progressOf: (exportId) => require(exportId).progress,
    stop(exportId) {
      const job = require(exportId);
      job.stop.abort();
      return job.progress;
    },
  };
}
