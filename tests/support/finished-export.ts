import type { ExportedFile, ExportProgress } from "#core/contract/records/exchange.ts";
import type { TempBench } from "./temp-bench.ts";

/** Waits until an export that was begun is written, stopped or refused. */
export async function finishedExport(
  { call }: Pick<TempBench, "call">,
  begun: ExportProgress | null,
): Promise<ExportProgress> {
  if (!begun) throw new Error("nothing was begun");
  let now = begun;
  while (now.state === "writing") {
    await new Promise((resolve) => setTimeout(resolve, 5));
    now = await call("exports.status", { exportId: now.exportId });
  }
  return now;
}

/** The workbook of one sheet, once it is written; null when the choice of a place was cancelled. */
export async function workbookOf(
  bench: Pick<TempBench, "call">,
  sheetId: string,
  kind: "live" | "values" = "live",
): Promise<ExportedFile | null> {
  const begun = await bench.call("exports.begin", {
    sheetIds: [sheetId],
    format: `${kind} workbook`,
    paper: "A4",
  });
  if (begun === null) return null;
  const { file, trouble } = await finishedExport(bench, begun);
  if (file === null) throw new Error(`the workbook was not written: ${JSON.stringify(trouble)}`);
  return file;
}
