import { setImmediate } from "node:timers/promises";

/** Work of this length between two pauses goes unnoticed at the keypad. */
const SLICE_MS = 4;

/** Lets the calls of the windows through while something long runs: to be awaited often. */
export function createYielder(): () => Promise<void> | undefined {
  let since = performance.now();
  return () => {
    if (performance.now() - since < SLICE_MS) return undefined;
    return setImmediate().then(() => {
      since = performance.now();
    });
  };
}
