import { createBreather } from "./yield-to-events.ts";

/** Whoever waits for a long writing: is told of rows and can stop it. */
export interface Pace {
  readonly signal: AbortSignal;
  /** Told after every piece of work how many rows have been written since the last time. */
  wrote(rows: number): void;
}

/** Rows told together to whoever waits. */
const ROWS_PER_REPORT = 100;

export const UNHURRIED: Pace = { signal: new AbortController().signal, wrote: () => undefined };

/** Pieces of work one at a time; lets other calls through, tells how far it is and stops when asked. */
export async function* paced<T>(pieces: Iterable<T>, pace: Pace): AsyncGenerator<T> {
  const breathe = createBreather();
  let unreported = 0;
  for (const piece of pieces) {
    yield piece;
    unreported += 1;
    if (unreported === ROWS_PER_REPORT) {
      pace.wrote(unreported);
      unreported = 0;
    }
    await breathe();
    pace.signal.throwIfAborted();
  }
  pace.wrote(unreported);
}

/** As one's own pace, for work that is no row of the file yet. */
export function untold({ signal }: Pace): Pace {
  return { signal, wrote: () => undefined };
}
