import { constants, setPriority } from "node:os";

/** Lets the processes go first that a person waits for. */
export function giveWay(): void {
  try {
    setPriority(constants.priority.PRIORITY_BELOW_NORMAL);
  } catch {
    // Where the system does not allow it, the work goes on as any other.
  }
}

/** Stands still, for a process nobody waits for. @param ms not below 0 */
export function pauseHere(ms: number): void {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, ms);
}
