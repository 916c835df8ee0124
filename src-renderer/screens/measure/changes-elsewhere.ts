import type { Client } from "#core/contract/calls.ts";
import type { GridState } from "../../grid/grid-state.ts";
import type { GridStore } from "../../grid/grid-store.ts";

/** How often an open sheet asks whether somebody else has changed it, ms. */
export const LOOK_EVERY = 5000;

/** Whether the grid has sent or received anything of its own in between. */
function isSame(a: GridState, b: GridState): boolean {
  return a.lastStored === b.lastStored && a.lastChanged === b.lastChanged && a.outbox === b.outbox;
}

/**
 * Keeps an open sheet true to the bench: a re-evaluation that goes on in the background, an amendment in another window.
 * Asks now and then what happened since the last answer; says nothing of what this window did itself.
 */
export class ChangesElsewhere {
  /** Told the setting of the changer with every answer. */
  onChanger: (setting: string) => void = () => undefined;
  readonly #client: Client;
  readonly #sheetId: string;
  readonly #store: GridStore;
  /** The last line of the trail that is known; null: not asked yet. */
  #since: number | null = null;
  #asking = false;

  constructor(client: Client, sheetId: string, store: GridStore) {
    this.#client = client;
    this.#sheetId = sheetId;
    this.#store = store;
  }

  /** Asks once. An answer that this window's own acts have overtaken is dropped: the next one tells it again. */
  async look(): Promise<void> {
    const before = this.#store.state();
    if (this.#asking || before.outbox.length > 0) return;
    this.#asking = true;
    const reply = await this.#client("rows.changedSince", { sheetId: this.#sheetId, since: this.#since });
    this.#asking = false;
    if (!reply.ok || !isSame(before, this.#store.state())) return;
    const { sequence, objectiveId, intermediateMagnification, changed } = reply.value;
    this.#since = sequence;
    this.onChanger(intermediateMagnification);
    const hasChanged = changed !== null || objectiveId !== this.#store.state().objectiveId;
    if (hasChanged) this.#store.dispatch({ type: "changedElsewhere", changed, objectiveId });
  }

  /** Looks every few seconds while the window is in sight, and when it comes back; returns the end of it. */
  follow(): () => void {
    const look = (): void => {
      if (document.visibilityState === "visible") void this.look();
    };
    let { lastChanged } = this.#store.state();
    // An own act on many rows has made the grid read them again: what it changed is no news.
    const unsubscribe = this.#store.subscribe(() => {
      const now = this.#store.state().lastChanged;
      if (now === lastChanged) return;
      lastChanged = now;
      if (now && now.rows.length < now.count - now.gone.length) this.#since = null;
    });
    const timer = setInterval(look, LOOK_EVERY);
    window.addEventListener("focus", look);
    document.addEventListener("visibilitychange", look);
    look();
    return () => {
      unsubscribe();
      clearInterval(timer);
      window.removeEventListener("focus", look);
      document.removeEventListener("visibilitychange", look);
    };
  }
}
