import { type CountingAction, reduceCounting } from "./counting-reducer.ts";
import type { CountingState } from "./counting-state.ts";

/** Holds one count outside React, so that a press draws only what it changes. */
export class CountingStore {
  #state: CountingState;
  readonly #listeners = new Set<() => void>();
  /** Called after every change: what waits may go out. Set once by the owner. */
  onChange: () => void = () => undefined;

  constructor(state: CountingState) {
    this.#state = state;
  }

  readonly state = (): CountingState => this.#state;

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  readonly dispatch = (action: CountingAction): void => {
    const state = reduceCounting(this.#state, action);
    if (state === this.#state) return;
    this.#state = state;
    for (const listener of this.#listeners) listener();
    this.onChange();
  };

  /** Resolves when nothing waits any more: before an act that ends the taking of presses. */
  settled(): Promise<void> {
    return new Promise((resolve) => {
      if (this.#state.outbox.length === 0) {
        resolve();
        return;
      }
      const unsubscribe = this.subscribe(() => {
        if (this.#state.outbox.length > 0) return;
        unsubscribe();
        resolve();
      });
    });
  }
}
