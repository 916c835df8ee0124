import { constants, setPriority } from "node:os";

/** Lets the processes go first that a person waits for. */
export function giveWay(): void {
  try {
    setPriority(constants.priority.PRIORITY_BELOW_NORMAL);
  } catch {
    // Where the system does not allow it, the work goes on as any other.
  }
}
