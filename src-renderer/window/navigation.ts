import { z } from "zod";
import { Listeners } from "../live/listeners.ts";
import { Location, SCREEN_START } from "./location.ts";

/** Work on a screen that is not saved yet. */
export interface UnsavedWork {
  /** What it is, as it reads after “You have not saved …”. */
  readonly what: string;
  /** Forgets what was typed; without it, what was typed is kept for the next visit. */
  readonly discard: () => void;
}

export interface NavigationState {
  readonly location: Location;
  readonly canGoBack: boolean;
  /** The person came here by Back: where they left off is where they want to be. */
  readonly cameBack: boolean;
  /** Set while the person is asked what to do with unsaved work before leaving. */
  readonly asking: UnsavedWork | null;
}

export type LeaveAnswer = "stay" | "keep" | "discard";

const KEY = "linefall.location";
const LONGEST_BACK_STACK = 50;
const Stored = z.strictObject({ location: Location, back: z.array(Location).max(LONGEST_BACK_STACK) });

function stored(storage: Storage): z.infer<typeof Stored> {
  try {
    return Stored.parse(JSON.parse(storage.getItem(KEY) ?? ""));
  } catch {
    return { location: SCREEN_START.bench, back: [] };
  }
}

const sameAs = (a: Location, b: Location): boolean => JSON.stringify(a) === JSON.stringify(b);

/** Where the person is and was; kept in `storage`, so that a reload of the window returns there. */
export class Navigation {
  readonly #storage: Storage;
  readonly #listeners = new Listeners();
  readonly #unsaved = new Map<string, UnsavedWork>();
  #back: Location[];
  #wanted: (() => void) | null = null;
  #state: NavigationState;

  constructor(storage: Storage) {
    const { location, back } = stored(storage);
    this.#storage = storage;
    this.#back = back;
    this.#state = { location, canGoBack: back.length > 0, cameBack: false, asking: null };
  }

  readonly state = (): NavigationState => this.#state;

  readonly subscribe = this.#listeners.add;

  /** Goes to a place; asks first when work there is not saved. */
  go(location: Location): void {
    if (sameAs(location, this.#state.location)) return;
    this.#leave(() => {
      this.#back = [...this.#back, this.#state.location].slice(-LONGEST_BACK_STACK);
      this.#arrive(location);
    });
  }

  /** Changes what the present place has open without a step back to the former. */
  replace(location: Location): void {
    this.#arrive(location);
  }

  back(): void {
    const before = this.#back.at(-1);
    if (!before) return;
    this.#leave(() => {
      this.#back = this.#back.slice(0, -1);
      this.#arrive(before, true);
    });
  }

  /** Registers unsaved work under a key; returns the function that takes it back. */
  guard(key: string, work: UnsavedWork): () => void {
    this.#unsaved.set(key, work);
    return () => {
      if (this.#unsaved.get(key) === work) this.#unsaved.delete(key);
    };
  }

  hasUnsavedWork(): boolean {
    return this.#unsaved.size > 0;
  }

  /** What work there is, as it reads after “You have not saved …”. */
  unsavedWork(): string[] {
    return [...this.#unsaved.values()].map(({ what }) => what);
  }

  /** The person's answer to `asking`. */
  answer(answer: LeaveAnswer): void {
    const wanted = this.#wanted;
    this.#wanted = null;
    this.#set({ ...this.#state, asking: null });
    if (answer === "stay" || !wanted) return;
    if (answer === "discard") for (const work of this.#unsaved.values()) work.discard();
    this.#unsaved.clear();
    wanted();
  }

  #leave(step: () => void): void {
    const work = [...this.#unsaved.values()];
    const first = work[0];
    if (!first) {
      step();
      return;
    }
    this.#wanted = step;
    const what = work.map((one) => one.what).join(", ");
    this.#set({ ...this.#state, asking: { ...first, what } });
  }

  #arrive(location: Location, cameBack = false): void {
    this.#storage.setItem(KEY, JSON.stringify({ location, back: this.#back }));
    this.#set({ location, canGoBack: this.#back.length > 0, cameBack, asking: null });
  }

  #set(state: NavigationState): void {
    this.#state = state;
    this.#listeners.tell();
  }
}
