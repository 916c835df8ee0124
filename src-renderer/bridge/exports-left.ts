import { useSyncExternalStore } from "react";

/** Exports whose screen was left while they were being written; plain identifiers, the oldest first. */
let left: readonly string[] = [];
const listeners = new Set<() => void>();

function become(next: readonly string[]): void {
  left = next;
  for (const listener of listeners) listener();
}

/** From now on the export is told of when it is done, whichever screen is open then. */
export function leaveExport(exportId: string): void {
  if (!left.includes(exportId)) become([...left, exportId]);
}

/** It was told of, and read. */
export function forgetExport(exportId: string): void {
  become(left.filter((one) => one !== exportId));
}

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

export function useExportsLeft(): readonly string[] {
  return useSyncExternalStore(subscribe, () => left);
}
