/** Waits for whatever ends the program, and remembers why. */
export interface EndSignal {
  readonly reason: Promise<string>;
  now(why: string): void;
  /** Gives the signals back to their usual effect, so that a second Ctrl+C ends a program that hangs. */
  forget(): void;
}

export function createEndSignal(): EndSignal {
  const { promise, resolve } = Promise.withResolvers<string>();
  const signals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;
  const forget = () => {
    for (const signal of signals) process.off(signal, stop);
  };
  function stop(): void {
    forget();
    resolve("it was asked to stop");
  }
  for (const signal of signals) process.on(signal, stop);
  return { reason: promise, now: resolve, forget };
}
