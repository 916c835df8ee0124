import type { GridState } from "../../../grid/grid-state.ts";
import type { KeyFacts } from "../../../grid/key-facts.ts";

/** What the keypad does beside readings: `/`, then one more key. */
export type KeypadAct = "undo" | "redo" | "strike" | "menu" | "changer";

const ACTS: Readonly<Record<string, KeypadAct>> = {
  "-": "undo",
  "+": "redo",
  "*": "strike",
  "0": "menu",
  ".": "changer",
  ",": "changer",
};

/** The act that a key asks for; null: the key is the turret's, or the grid's. No turret has a position 0. */
export function keypadAct(facts: KeyFacts, state: Pick<GridState, "turret">): KeypadAct | null {
  if (state.turret !== "" || facts.ctrl || facts.alt || facts.meta) return null;
  return ACTS[facts.key] ?? null;
}
