import { createYielder } from "./yield-to-events.ts";

/** Whoever waits for a long writing: is told of rows and can stop it. */
export interface Progress {
  readonly signal: AbortSignal;
  /** Told after every piece of work how many rows have been written since the last time. */
  advance(rows: number): void;
}

/** Rows told together to whoever waits. */
const ROWS_PER_REPORT = 100;

export const NO_PROGRESS: Progress = { signal: new AbortController().signal, advance: () => undefined };

/** Pieces of work one at a time; lets other calls through, tells how far it is and stops when asked. */
export async function* withProgress<T>(pieces: Iterable<T>, progress: Progress): AsyncGenerator<T> {
  const yieldToEvents = createYielder();
  let unreported = 0;
  for (const piece of pieces) {
    yield piece;
    unreported += 1;
    if (unreported === ROWS_PER_REPORT) {
      progress.advance(unreported);
      unreported = 0;
    }
    await yieldToEvents();
    progress.signal.throwIfAborted();
  }
  progress.advance(unreported);
}

/** The same progress, for work that is no row of the file yet. */
export function silently({ signal }: Progress): Progress {
  return { signal, advance: () => undefined };
}
