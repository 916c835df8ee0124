import { useCallback } from "react";
import type { GridStore } from "../../../grid/grid-store.ts";
import type { KeyFacts } from "../../../grid/key-facts.ts";
import { type KeypadAct, keypadAct } from "./keypad-acts.ts";

/** Answers the keypad's second keys of a sheet's grid; `ask` opens the menu, `changer` the settings of the changer. */
export function useKeypadActs(
  store: GridStore,
  ask: () => void,
  changer: () => void,
): (facts: KeyFacts) => boolean {
  return useCallback(
    (facts) => {
      const act = keypadAct(facts, store.state());
      if (act === null) return false;
      store.dispatch({ type: "turretCancel" });
      const doIt: Readonly<Record<KeypadAct, () => void>> = {
        undo: () => store.dispatch({ type: "undo" }),
        redo: () => store.dispatch({ type: "redo" }),
        strike: () => store.dispatch({ type: "askStrike" }),
        menu: ask,
        changer,
      };
      doIt[act]();
      return true;
    },
    [store, ask, changer],
  );
}
