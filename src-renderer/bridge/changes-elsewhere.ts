import type { Client } from "#core/contract/calls.ts";
import type { ChangePoint } from "#core/contract/records/bench.ts";
import type { CallCache } from "./call-cache.ts";

/** How often a window asks what others have changed, ms. */
export const LOOK_EVERY = 3000;

/** Keeps what a window shows true to what other windows did, and jobs that went on after their call. */
export class ChangesElsewhere {
  readonly #client: Client;
  readonly #cache: CallCache;
  #since: ChangePoint | null = null;
  #asking: Promise<void> | null = null;
  #day = dayHere();

  constructor(client: Client, cache: CallCache) {
    this.#client = client;
    this.#cache = cache;
  }

  /** Asks once what has changed since the last answer. Says this window's own acts too: they cost one more reading. */
  look(): Promise<void> {
    this.#asking ??= this.#ask().finally(() => {
      this.#asking = null;
    });
    return this.#asking;
  }

  async #ask(): Promise<void> {
    const reply = await this.#client("bench.changes", { since: this.#since });
    if (!reply.ok) return;
    const day = dayHere();
    if (day !== this.#day) this.#cache.newDay();
    this.#day = day;
    this.#since = reply.value.now;
    if (reply.value.changed.length > 0) this.#cache.changed(reply.value.changed);
  }

  /** Looks every few seconds while the window is in sight, and when it comes back; returns the end of it. */
  follow(): () => void {
    const look = (): void => {
      if (document.visibilityState === "visible") void this.look();
    };
    const timer = setInterval(look, LOOK_EVERY);
    window.addEventListener("focus", look);
    document.addEventListener("visibilitychange", look);
    look();
    return () => {
      clearInterval(timer);
      window.removeEventListener("focus", look);
      document.removeEventListener("visibilitychange", look);
    };
  }
}

/** The calendar day at this machine: the services ask the same clock what is due. */
function dayHere(): string {
  return new Date().toDateString();
}
