import { LiveStore } from "../../../live/live-store.ts";
import { type CountingAction, reduceCounting } from "./counting-reducer.ts";
import type { CountingState } from "./counting-state.ts";

const NOTHING = [] as const;
/** The link looks what may go out. */
const CHANGED = ["changed"] as const;

/** The live state of one count. */
export class CountingStore extends LiveStore<CountingState, CountingAction, "changed"> {
  constructor(from: CountingState) {
    super(from, (before, action) => {
      const state = reduceCounting(before, action);
      return { state, effects: state === before ? NOTHING : CHANGED };
    });
  }

  /** Resolves when nothing waits any more: before an act that ends the taking of presses. */
  settled(): Promise<void> {
    return this.until(({ outbox }) => outbox.length === 0);
  }
}
