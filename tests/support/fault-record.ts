import { appendFileSync } from "node:fs";

/** One line of the table that `npm run faults` prints. */
export interface FaultRecord {
  readonly what: string;
  /** How often it was tried. */
  readonly times: number;
  readonly lost: string;
}

/** Tells what a test tried without finding anything lost; to be called when all that was expected has held. */
export function lostNothing(what: string, times: number, found: string): void {
  console.log(`${what}: ${times} times; ${found}`);
  const file = process.env.LINEFALL_FAULT_RECORD;
  if (file === undefined) return;
  const record: FaultRecord = { what, times, lost: `nothing; ${found}` };
  appendFileSync(file, `${JSON.stringify(record)}\n`);
}
