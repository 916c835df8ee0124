import { useEffect, useState } from "react";
import type { CountResults } from "#core/contract/records/count-results.ts";
import type { CountContext } from "./count-context.ts";
import type { CountingState } from "./counting-state.ts";
import type { CountingStore } from "./counting-store.ts";
import { liveResults } from "./live-results.ts";

/** The numbers of the hand follow each press; intervals and densities follow this much later, so that no press waits. */
const REST_MS = 150;

type Around = Pick<CountContext, "method" | "factor">;

/** True when nothing that results follow from has changed; a stored press changes the record, not the counts. */
function sameData(a: CountingState, b: CountingState): boolean {
  const { inputs, categories, state, trainCautions } = b.count;
  return (
    a.fields === b.fields &&
    a.count.inputs === inputs &&
    a.count.categories === categories &&
    a.count.trainCautions === trainCautions &&
    a.count.state === state
  );
}

/** Results that follow the presses at a small distance, in a task of their own. */
export function useLiveResults(store: CountingStore, { method, factor }: Around): CountResults {
  const { definition } = method;
  const [results, setResults] = useState(() =>
    liveResults(store.state(), { definition, factor }, Date.now()),
  );
  useEffect(() => {
    let shown: CountingState | null = null;
    let timer: ReturnType<typeof setTimeout> | null = null;
    const follow = (): void => {
      timer = null;
      const state = store.state();
      if (shown && sameData(shown, state)) return;
      shown = state;
      setResults(liveResults(state, { definition, factor }, Date.now()));
    };
    const later = (): void => {
      timer ??= setTimeout(follow, REST_MS);
    };
    follow();
    const unsubscribe = store.subscribe(later);
    return () => {
      unsubscribe();
      if (timer !== null) clearTimeout(timer);
    };
  }, [store, definition, factor]);
  return results;
}
