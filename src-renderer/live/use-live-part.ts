import { useCallback, useRef, useSyncExternalStore } from "react";

interface Followed<State> {
  readonly state: () => State;
  readonly subscribe: (listener: () => void) => () => void;
}

/** A part of a live state; the component is drawn again only when the part is no longer the same. */
export function useLivePart<State, T>(
  store: Followed<State>,
  select: (state: State) => T,
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
