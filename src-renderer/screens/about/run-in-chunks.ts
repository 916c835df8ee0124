import type { ReferenceCase } from "#core/selftest/reference-case.ts";
import { runSelftest, type SelftestRow } from "#core/selftest/run-selftest.ts";

export interface ChunkOptions {
  /** Cases between two looks at the window. */
  readonly size: number;
  /** Lets the window draw and hear keys. */
  readonly breathe: () => Promise<void>;
  readonly onProgress: (rows: readonly SelftestRow[]) => void;
  readonly signal: AbortSignal;
}

/** Runs the reference cases a few at a time, so that the window stays awake and the run can be stopped. */
export async function runInChunks(cases: readonly ReferenceCase[], options: ChunkOptions): Promise<void> {
  const rows: SelftestRow[] = [];
  for (let from = 0; from < cases.length && !options.signal.aborted; from += options.size) {
    rows.push(...runSelftest(cases.slice(from, from + options.size)).rows);
    options.onProgress([...rows]);
    await options.breathe();
  }
}
