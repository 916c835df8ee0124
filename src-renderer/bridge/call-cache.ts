import {
  type CallInput,
  type CallName,
  type CallOutput,
  type Client,
  type KeptRead,
  restsOn,
} from "#core/contract/calls.ts";
import type { CallError } from "#core/contract/reply.ts";
import type { Tag } from "#core/contract/tags.ts";

/** What is known about one read. */
export interface CallState<N extends CallName> {
  /** The last good answer; stays while a newer one is fetched or refused. */
  readonly data: CallOutput<N> | undefined;
  /** Why the last fetch was refused. */
  readonly error: CallError | undefined;
  /** An answer is awaited. */
  readonly busy: boolean;
}

interface Entry {
  readonly name: CallName;
  readonly input: unknown;
  state: CallState<CallName>;
  stale: boolean;
  /** Counts fetches, so that a late answer of an older fetch is dropped. */
  fetches: number;
  readonly listeners: Set<() => void>;
}

/** Answers kept, beside those on screen. */
const MOST_KEPT = 500;

/** Key of a read: its name and its input with the keys in the order given. */
export function keyOfCall(name: CallName, input: unknown): string {
  return `${name} ${JSON.stringify(input)}`;
}

/** Keeps the answers of reads for the components that show them, and fetches again what an act has changed. */
export class CallCache {
  readonly #entries = new Map<string, Entry>();
  #client: Client | null = null;

  /** Joins the cache to its client; the client tells the cache what each act has changed. */
  use(client: Client): void {
    this.#client = client;
  }

  #entry(name: CallName, input: unknown): Entry {
    const key = keyOfCall(name, input);
    const known = this.#entries.get(key);
    if (known) return known;
    const entry: Entry = {
      name,
      input,
      state: { data: undefined, error: undefined, busy: false },
      stale: true,
      fetches: 0,
      listeners: new Set(),
    };
    this.#entries.set(key, entry);
    return entry;
  }

  read<N extends KeptRead>(name: N, input: CallInput<N>): CallState<N> {
    return this.#entry(name, input).state as CallState<N>;
  }

  subscribe<N extends KeptRead>(name: N, input: CallInput<N>, listener: () => void): () => void {
    const entry = this.#entry(name, input);
    entry.listeners.add(listener);
    if (entry.stale) this.#fetch(entry);
    return () => {
      entry.listeners.delete(listener);
      this.#forgetOldest();
    };
  }

  reload<N extends KeptRead>(name: N, input: CallInput<N>): void {
    this.#fetch(this.#entry(name, input));
  }

  /** Marks the answers that rest on a changed part as out of date and fetches again what is on screen. */
  changed(tags: readonly Tag[]): void {
    for (const entry of this.#entries.values()) {
      if (restsOn(entry.name).some((tag) => tags.includes(tag))) this.#outOfDate(entry);
    }
  }

  /** Due dates pass without an act: on a new day no answer is taken for true any more. */
  newDay(): void {
    for (const entry of this.#entries.values()) this.#outOfDate(entry);
  }

  #outOfDate(entry: Entry): void {
    entry.stale = true;
    if (entry.listeners.size > 0) this.#fetch(entry);
  }

  /** What was looked for once is not kept for ever. */
  #forgetOldest(): void {
    for (const [key, { listeners }] of this.#entries) {
      if (this.#entries.size <= MOST_KEPT) return;
      if (listeners.size === 0) this.#entries.delete(key);
    }
  }

  #fetch(entry: Entry): void {
    if (!this.#client) return;
    entry.stale = false;
    entry.fetches += 1;
    const fetch = entry.fetches;
    this.#set(entry, { ...entry.state, busy: true });
    void this.#client(entry.name, entry.input as never).then((reply) => {
      if (fetch !== entry.fetches) return;
      entry.stale ||= !reply.ok;
      this.#set(
        entry,
        reply.ok
          ? { data: reply.value, error: undefined, busy: false }
          : { data: entry.state.data, error: reply.error, busy: false },
      );
    });
  }

  #set(entry: Entry, state: CallState<CallName>): void {
    entry.state = state;
    for (const listener of entry.listeners) listener();
  }
}
