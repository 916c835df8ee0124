import type { ExportProgress } from "#core/contract/records/exchange.ts";
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
