import type { CallInput, Client } from "#core/contract/calls.ts";
import type { CallError } from "#core/contract/reply.ts";

type Draft = CallInput<"calibrations.keepDraft">;

export type KeptState =
  | { readonly state: "kept" | "typing" }
  | { readonly state: "refused"; readonly error: CallError };

/** Typing pauses this long before a draft is kept, ms. */
const PAUSE = 400;
const LOST_PAUSE = 1500;

/** Keeps the newest state of a draft, one call at a time. What is overtaken while a call is under way is not sent. */
export class DraftKeeper {
  readonly #client: Client;
  readonly #tell: (state: KeptState) => void;
  #newest: Draft | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #underWay: Promise<void> | null = null;

  constructor(client: Client, tell: (state: KeptState) => void) {
    this.#client = client;
    this.#tell = tell;
  }

  keep(draft: Draft): void {
    this.#newest = draft;
    this.#tell({ state: "typing" });
    this.#later(PAUSE);
  }

  /** Resolves when everything given so far is kept, or was refused. */
  async flush(): Promise<void> {
    clearTimeout(this.#timer);
    await this.#underWay;
    if (this.#newest) {
      this.#underWay = this.#send(this.#newest);
      await this.#underWay;
    }
  }

  #later(pause: number): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.flush(), pause);
  }

  async #send(draft: Draft): Promise<void> {
    const reply = await this.#client("calibrations.keepDraft", draft);
    this.#underWay = null;
    if (reply.ok) {
      if (this.#newest !== draft) return;
      this.#newest = null;
      this.#tell({ state: "kept" });
      return;
    }
    this.#tell({ state: "refused", error: reply.error });
    if (reply.error.code === "host.lost") this.#later(LOST_PAUSE);
    else if (this.#newest === draft) this.#newest = null;
  }
}
