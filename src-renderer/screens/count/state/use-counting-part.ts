import { useCallback, useSyncExternalStore } from "react";
import type { CountingState } from "./counting-state.ts";
import type { CountingStore } from "./counting-store.ts";

/** A part of a count's state that compares by identity or value; drawn again only when it is another. */
export function useCountingPart<T>(store: CountingStore, select: (state: CountingState) => T): T {
  const read = useCallback(() => select(store.state()), [store, select]);
  return useSyncExternalStore(store.subscribe, read);
}
