import type { WorkProgress } from "#core/contract/records/work.ts";

/** The same part is told of again after so long. */
const AGAIN_MS = 2000;

/** Tells at the terminal how far opening is: each part when it begins, and its share every few seconds. */
export function sayOpening(log: (line: string) => void, now = Date.now): (progress: WorkProgress) => void {
  let last = { part: "", at: 0 };
  return ({ part, done, parts }) => {
    const at = now();
    if (part === last.part && at - last.at < AGAIN_MS) return;
    const share = parts > 0 && done > 0 ? ` (${Math.floor((100 * done) / parts)} %)` : "";
    log(`The bench is of an older version and is brought up to this one: ${part}${share}`);
    last = { part, at };
  };
}
