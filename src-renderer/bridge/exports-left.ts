import { useSyncExternalStore } from "react";
import { Listeners } from "../live/listeners.ts";

/** Exports whose screen was left while they were being written; plain identifiers, the oldest first. */
let left: readonly string[] = [];
const listeners = new Listeners();

function become(next: readonly string[]): void {
  left = next;
  listeners.tell();
}

/** From now on the export is told of when it is done, whichever screen is open then. */
export function leaveExport(exportId: string): void {
  if (!left.includes(exportId)) become([...left, exportId]);
}

/** It was told of, and read. */
export function forgetExport(exportId: string): void {
  become(left.filter((one) => one !== exportId));
}

export function useExportsLeft(): readonly string[] {
  return useSyncExternalStore(listeners.add, () => left);
}
