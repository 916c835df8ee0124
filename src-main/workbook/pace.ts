/** Whoever waits for a long writing: is told of rows and can stop it. */
export interface Pace {
  readonly signal: AbortSignal;
  /** Told after every piece of work how many rows have been written since the last time. */
  wrote(rows: number): void;
}

export const UNHURRIED: Pace = { signal: new AbortController().signal, wrote: () => undefined };
