import { useCallback, useRef, useSyncExternalStore } from "react";
import type { GridState } from "./grid-state.ts";
import type { GridStore } from "./grid-store.ts";

/** A part of the grid's state; the component is drawn again only when the part is no longer the same. */
export function useGridPart<T>(
  store: GridStore,
  select: (state: GridState) => T,
  same: (a: T, b: T) => boolean = Object.is,
): T {
  const last = useRef<{ readonly part: T } | null>(null);
  const read = useCallback((): T => {
    const part = select(store.state());
    if (last.current && same(last.current.part, part)) return last.current.part;
    last.current = { part };
    return part;
  }, [store, select, same]);
  return useSyncExternalStore(store.subscribe, read);
}
