import type { GridState } from "../../../grid/grid-state.ts";
import type { GridStore } from "../../../grid/grid-store.ts";

const isSettled = ({ outbox }: GridState): boolean => !outbox.some((item) => item.kind === "objective");
const isSent = ({ outbox }: GridState): boolean => outbox.length === 0;

function once(store: GridStore, holds: (state: GridState) => boolean): Promise<string> {
  return new Promise((resolve) => {
    const look = (): void => {
      const state = store.state();
      if (!holds(state)) return;
      stop();
      resolve(state.objectiveId);
    };
    const stop = store.subscribe(look);
    look();
  });
}

/** The objective in use once no change of it is on its way. */
export function settledObjective(store: GridStore): Promise<string> {
  return once(store, isSettled);
}

/** The objective in use once nothing at all is on its way: every reading typed so far is stored. */
export function objectiveOnceSent(store: GridStore): Promise<string> {
  return once(store, isSent);
}
