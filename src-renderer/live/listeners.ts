/** Those who want to know that something changed. */
export class Listeners {
  readonly #all = new Set<() => void>();

  /** From now on it is told; returns the end of it. */
  readonly add = (listener: () => void): (() => void) => {
    this.#all.add(listener);
    return () => this.#all.delete(listener);
  };

  tell(): void {
    for (const listener of this.#all) listener();
  }
}
