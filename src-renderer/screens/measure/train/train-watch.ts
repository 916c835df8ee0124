import type { GridState } from "../../../grid/grid-state.ts";
import { objectiveInUse } from "../../../grid/grid-state.ts";
import type { KeyFacts } from "../../../grid/key-facts.ts";
import { Listeners } from "../../../live/listeners.ts";

/** Why the train is to be looked at. */
export type TrainOccasion = "opened" | "idle" | "person";

/** Nobody touches the program this long: what the light goes through may have been changed meanwhile. ms */
export const IDLE_BREAK = 15 * 60_000;

/** Who measures on which sheet. */
export interface TrainVisit {
  readonly sheetId: string;
  readonly personId: string;
}

export interface TrainWatchOptions {
  /** Milliseconds of any steady clock. */
  readonly now: () => number;
  /** Called with the objective that the person found in the light path. */
  readonly onConfirm: (objectiveId: string) => void;
}

/**
 * When the optical train has to be confirmed, and which key does it. The question stands beside the work: every key goes
 * on as before but Enter where nothing has been typed since it was asked. A reading under way is never touched by it.
 */
export class TrainWatch {
  readonly #now: () => number;
  readonly #listeners = new Listeners();
  onConfirm: (objectiveId: string) => void;
  #asked: TrainOccasion | null = null;
  #visit: TrainVisit | null = null;
  #lastTouch: number;
  /** A character went to the grid since the question was asked, and its editor is open still. */
  #isTyping = false;
  /** Asked by the very key that is being pressed: it cannot be the answer. */
  #isUnseen = false;
  /** The last key was pressed while a turret position was asked for, and may have chosen one. */
  #mayChoose = false;

  constructor({ now, onConfirm }: TrainWatchOptions) {
    this.#now = now;
    this.onConfirm = onConfirm;
    this.#lastTouch = now();
  }

  /** What the question is asked for; null: nothing is asked. */
  readonly asked = (): TrainOccasion | null => this.#asked;

  readonly subscribe = this.#listeners.add;

  /** A sheet is at work under a person. Coming back to the same one without a break asks nothing again. */
  visit(visit: TrainVisit): void {
    const before = this.#visit;
    this.#visit = visit;
    if (before?.sheetId !== visit.sheetId) this.ask("opened");
    else if (before.personId !== visit.personId) this.ask("person");
    this.touch();
  }

  /** The person did something, anywhere in the window. */
  touch(): void {
    const before = this.#asked;
    this.look();
    this.#isUnseen = before === null && this.#asked !== null;
    this.#lastTouch = this.#now();
  }

  /** Asks when nobody has touched the program for long. */
  look(): void {
    if (this.#visit && this.untilBreak() <= 0) this.ask("idle");
  }

  /** Until the present pause is a break, ms. */
  untilBreak(): number {
    return this.#lastTouch + IDLE_BREAK - this.#now();
  }

  ask(occasion: TrainOccasion): void {
    if (this.#asked !== null) return;
    this.#isTyping = false;
    this.#set(occasion);
  }

  /** The person says that this objective is in the light path. */
  confirm(objectiveId: string): void {
    if (this.#asked === null) return;
    this.#set(null);
    this.onConfirm(objectiveId);
  }

  /** The question has been answered and recorded elsewhere, for this objective or one chosen since. */
  answered(): void {
    if (this.#asked !== null) this.#set(null);
  }

  /** A key on its way to the grid, which is in `state`. @returns true when it answered the question and ends here */
  key(facts: KeyFacts, state: GridState): boolean {
    this.#mayChoose = state.turret !== null && /^(?:\d|Enter)$/.test(facts.key);
    if (this.#asked === null) return false;
    if (state.editing === null) this.#isTyping = false;
    if (isPlainEnter(facts) && state.turret === null && !this.#isTyping && !this.#isUnseen) {
      this.confirm(objectiveInUse(state));
      return true;
    }
    if (facts.key.length === 1 || facts.composing) this.#isTyping = true;
    return false;
  }

  /** The grid has changed: an objective chosen by its position, even the same one, answers the question. */
  gridChanged(before: GridState, after: GridState): void {
    const isChosen = before.turret !== null && after.turret === null && this.#mayChoose;
    if (isChosen) this.confirm(objectiveInUse(after));
  }

  #set(asked: TrainOccasion | null): void {
    this.#asked = asked;
    this.#listeners.tell();
  }
}

function isPlainEnter({ key, ctrl, alt, shift, meta, composing }: KeyFacts): boolean {
  return key === "Enter" && !ctrl && !alt && !shift && !meta && !composing;
}
