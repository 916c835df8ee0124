import { useCallback, useRef, useSyncExternalStore } from "react";
import type { CallInput, CallName, KeptRead } from "#core/contract/calls.ts";
import { useBridge } from "./bridge-context.tsx";
import { type CallState, keyOfCall } from "./call-cache.ts";

export interface CallView<N extends CallName> extends CallState<N> {
  readonly reload: () => void;
}

/** Reads through the cache: fetched once, shared by all that ask the same, fetched again after an act that changes it. */
export function useCall<N extends KeptRead>(name: N, input: CallInput<N>): CallView<N> {
  const { cache } = useBridge();
  const key = keyOfCall(name, input);
  // Inputs are plain data compared by their key, so a caller may write them in place.
  const call = useRef({ key, input });
  if (call.current.key !== key) call.current = { key, input };
  const kept = call.current.input;

  const subscribe = useCallback(
    (listener: () => void) => cache.subscribe(name, kept, listener),
    [cache, name, kept],
  );
  const state = useSyncExternalStore(subscribe, () => cache.read(name, kept));
  const reload = useCallback(() => cache.reload(name, kept), [cache, name, kept]);
  return { ...state, reload };
}
