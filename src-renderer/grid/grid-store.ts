import type { GridAction } from "./grid-action.ts";
import type { GridEffect } from "./grid-effect.ts";
import { reduceGrid } from "./grid-reducer.ts";
import type { GridState } from "./grid-state.ts";

/** Holds the grid's state outside React: a change draws only the rows whose view has changed. */
export class GridStore {
  #state: GridState;
  readonly #listeners = new Set<() => void>();
  readonly #newId: () => string;
  /** Does what the reducer asks for; set once by the owner. */
  onEffect: (effect: GridEffect) => void = () => undefined;

  constructor(state: GridState, newId: () => string) {
    this.#state = state;
    this.#newId = newId;
  }

  readonly state = (): GridState => this.#state;

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  readonly dispatch = (action: GridAction): void => {
    const { state, effects } = reduceGrid(this.#state, action, this.#newId);
    const changed = state !== this.#state;
    this.#state = state;
    if (changed) for (const listener of this.#listeners) listener();
    for (const effect of effects) this.onEffect(effect);
  };
}
