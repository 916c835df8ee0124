import type { Client } from "#core/contract/calls.ts";

/** The records at work in a window, by their ids. One outlives its screen while anything of it is not stored. */
export class LiveRecords<Live> {
  readonly #isWaiting: (live: Live) => boolean;
  readonly #byClient = new WeakMap<Client, Map<string, Live>>();

  /** @param isWaiting true while something of it is still to be stored: it is gone on with then, not made anew */
  constructor(isWaiting: (live: Live) => boolean) {
    this.#isWaiting = isWaiting;
  }

  #of(client: Client): Map<string, Live> {
    const known = this.#byClient.get(client);
    if (known) return known;
    const made = new Map<string, Live>();
    this.#byClient.set(client, made);
    return made;
  }

  /** The one that something waits of, or a new one in its place. */
  open(client: Client, id: string, make: () => Live): Live {
    const all = this.#of(client);
    const before = all.get(id);
    if (before !== undefined && this.#isWaiting(before)) return before;
    const made = make();
    all.set(id, made);
    return made;
  }

  all(client: Client): readonly Live[] {
    return [...this.#of(client).values()];
  }
}
