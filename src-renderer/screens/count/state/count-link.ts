import type { Client } from "#core/contract/calls.ts";
import type { CountingAct } from "#core/contract/records/count.ts";
import { errorWords } from "#core/contract/reply.ts";
import { LOST_PAUSE } from "../../../live/lost-pause.ts";
import { needsFetch, readyToSend } from "./counting-reducer.ts";
import type { Outgoing } from "./counting-state.ts";
import type { CountingStore } from "./counting-store.ts";
import { keepPresses } from "./press-keeper.ts";

const LONGEST_WAIT = 86_400_000;

export interface CountLinkOptions {
  readonly client: Client;
  readonly store: CountingStore;
  readonly storage: Pick<Storage, "getItem" | "setItem" | "removeItem">;
  readonly now: () => number;
}

/**
 * Sends the acts of one count in their order, one call at a time: whatever gathers while a call is under way goes
 * together with the next. A call that fails to arrive is sent again with the same request ids.
 */
export class CountLink {
  readonly #given: CountLinkOptions;
  /** The outbox last put aside: it is written again only when it changed. */
  #kept: readonly Outgoing[] = [];
  #willSend = false;

  constructor(given: CountLinkOptions) {
    this.#given = given;
    given.store.onEffect = () => this.#step();
  }

  /** Sends what waits, after an earlier window left it. */
  start(): void {
    this.#step();
  }

  #step(): void {
    const { store, storage } = this.#given;
    const state = store.state();
    if (state.outbox !== this.#kept) {
      this.#kept = state.outbox;
      keepPresses(storage, state.count.id, state.outbox);
    }
    if (this.#willSend || readyToSend(state) === 0) return;
    this.#willSend = true;
    // In a task of its own: the echo of the key comes first. What waits is put aside already.
    setTimeout(() => this.#sendWaiting(), 0);
  }

  #sendWaiting(): void {
    this.#willSend = false;
    const { store } = this.#given;
    const state = store.state();
    const count = readyToSend(state);
    if (count === 0) return;
    const acts = state.outbox.slice(0, count).map((one) => this.#stamped(one));
    store.dispatch({ type: "sent", count });
    void this.#send(acts);
  }

  #stamped({ act, madeAt }: Outgoing): CountingAct {
    const waitedMs = Math.round(Math.min(LONGEST_WAIT, Math.max(0, this.#given.now() - madeAt)));
    return { ...act, waitedMs };
  }

  async #send(acts: CountingAct[]): Promise<void> {
    const { client, store } = this.#given;
    const countId = store.state().count.id;
    const reply = await client("counts.pressMany", { countId, acts });
    if (reply.ok) {
      if (needsFetch(store.state(), reply.value)) await this.#rebase(acts.length, null);
      else store.dispatch({ type: "stored", echoes: reply.value });
    } else if (reply.error.code === "host.lost") this.#lost();
    else if (acts.length > 1) store.dispatch({ type: "split" });
    else await this.#rebase(1, errorWords(reply.error));
  }

  #again(): void {
    const { store } = this.#given;
    // Straight to the host: the state says that it is lost, until it answers.
    const [first] = store.state().outbox;
    if (first) void this.#send([this.#stamped(first)]);
  }

  /** Goes back to what the host keeps, with what still waits on top. */
  async #rebase(skipped: number, words: string | null): Promise<void> {
    const { client, store } = this.#given;
    const reply = await client("counts.state", { countId: store.state().count.id });
    if (reply.ok) store.dispatch({ type: "rebased", state: reply.value, skipped, words });
    else this.#lost();
  }

  #lost(): void {
    this.#given.store.dispatch({ type: "lost" });
    setTimeout(() => this.#again(), LOST_PAUSE);
  }
}
