import type { ReferenceCase } from "#core/selftest/reference-case.ts";
import { runSelftest, type SelftestRow } from "#core/selftest/run-selftest.ts";

export interface ChunkOptions {
  /** How long cases are run between two looks at the window, ms; one case is never cut short. */
  readonly budget: number;
  /** Milliseconds of a clock that only runs forward. */
  readonly now: () => number;
  /** Lets the window draw and hear keys. */
  readonly yieldToEvents: () => Promise<void>;
  readonly onProgress: (rows: readonly SelftestRow[]) => void;
  readonly signal: AbortSignal;
}

/** Runs the reference cases a few at a time, so that the window stays awake and the run can be stopped. */
export async function runInChunks(cases: readonly ReferenceCase[], options: ChunkOptions): Promise<void> {
  const rows: SelftestRow[] = [];
  while (rows.length < cases.length && !options.signal.aborted) {
    const until = options.now() + options.budget;
    do {
      rows.push(...runSelftest(cases.slice(rows.length, rows.length + 1)).rows);
    } while (rows.length < cases.length && options.now() < until);
    options.onProgress([...rows]);
    await options.yieldToEvents();
  }
}
