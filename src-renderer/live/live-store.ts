import { Listeners } from "./listeners.ts";

/** What an action leads to: the next state, and what is to be done outside of it. */
export interface LiveStep<State, Effect> {
  readonly state: State;
  readonly effects: readonly Effect[];
}

/**
 * The state of one record at work, held outside React: a change draws only the parts that are others now. The reducer is
 * pure; what it wants done (sending, keeping, asking) leaves as effects.
 */
export class LiveStore<State, Action, Effect> {
  #state: State;
  readonly #listeners = new Listeners();
  readonly #reduce: (state: State, action: Action) => LiveStep<State, Effect>;
  /** Does what the reducer asks for; set once by the owner. */
  onEffect: (effect: Effect) => void = () => undefined;

  constructor(state: State, reduce: (state: State, action: Action) => LiveStep<State, Effect>) {
    this.#state = state;
    this.#reduce = reduce;
  }

  readonly state = (): State => this.#state;

  readonly subscribe = this.#listeners.add;

  readonly dispatch = (action: Action): void => {
    const { state, effects } = this.#reduce(this.#state, action);
    const changed = state !== this.#state;
    this.#state = state;
    if (changed) this.#listeners.tell();
    for (const effect of effects) this.onEffect(effect);
  };

  /** Resolves when the state is as wanted: at once, or after a change. */
  until(isSo: (state: State) => boolean): Promise<void> {
    if (isSo(this.#state)) return Promise.resolve();
    return new Promise((resolve) => {
      const stop = this.subscribe(() => {
        if (!isSo(this.#state)) return;
        stop();
        resolve();
      });
    });
  }
}
