import { useCallback, useLayoutEffect, useRef, useState } from "react";
import type { CountingAct } from "#core/contract/records/count.ts";
import { newRequestId } from "../../../bridge/request-id.ts";
import { playTone, soundSettings, speak } from "../../../sound/window-sound.ts";
import type { CountingStore } from "../state/counting-store.ts";
import { heardAfter } from "./announce.ts";
import { NO_PREFIX, type PadCommand, type PadPrefix, padCommand, placeOnPad } from "./counting-keys.ts";

export interface CountKeys {
  readonly prefix: PadPrefix;
  /** Does what a key or a click on the drawn key means. */
  readonly run: (command: PadCommand) => void;
}

const TAKES_KEYS = "input, select, textarea, [contenteditable]";
const ANSWERS_ENTER = "button, a, summary";
const ENTER_KEYS: readonly string[] = ["Enter", "NumpadEnter", "Space"];

/** True when a key belongs to what has the focus, or to an open dialog. */
function belongsElsewhere(event: KeyboardEvent): boolean {
  if (document.querySelector("dialog[open]")) return true;
  const { target } = event;
  if (!(target instanceof Element)) return false;
  if (target.closest(TAKES_KEYS)) return true;
  return ENTER_KEYS.includes(event.code) && target.closest(ANSWERS_ENTER) !== null;
}

type Act = Extract<PadCommand, { kind: "press" | "field" | "undo" }>;

function actOf(command: Act, rowId: string | null): CountingAct {
  const common = { requestId: newRequestId(), waitedMs: 0 };
  if (command.kind === "press") {
    return { kind: "press", ...common, category: command.category.key, weight: command.weight, rowId };
  }
  return command.kind === "field"
    ? { kind: "field", ...common, position: null }
    : { kind: "undo", ...common };
}

/** Does an act at once and lets it be heard. */
function perform(store: CountingStore, command: Act, rowId: string | null): void {
  const before = store.state();
  store.dispatch({ type: "act", act: actOf(command, rowId), madeAt: Date.now() });
  const { tone, words } = heardAfter(command, before, store.state(), soundSettings().spokenEvery);
  playTone(tone);
  if (words) speak(words);
}

export interface HandOptions {
  readonly store: CountingStore;
  /** False while the count is paused or closed: keys are refused with a word. */
  readonly counting: boolean;
  readonly onMeasure: () => void;
  /** Opens the search for a category. */
  readonly onFind: () => void;
  /** The row that the next press belongs to; asked once for each press. */
  readonly takeRow: () => string | null;
}

/** The counting hand: hears the keys of the whole window, acts at once, and lets itself be heard. */
export function useCountKeys({ store, counting, onMeasure, onFind, takeRow }: HandOptions): CountKeys {
  const [prefix, setPrefix] = useState<PadPrefix>(NO_PREFIX);
  const latest = useRef(prefix);
  const show = useCallback((next: PadPrefix) => {
    latest.current = next;
    setPrefix(next);
  }, []);

  const run = useCallback(
    (command: PadCommand): void => {
      const refuse = (words: string): void => {
        playTone("refused");
        store.dispatch({ type: "remark", text: words, kind: "care" });
      };
      if (command.kind === "refuse") refuse(command.words);
      else if (!counting) refuse("The count is paused: the key was not taken. F7 goes on.");
      else if (command.kind === "prefix") show(command.prefix);
      else if (command.kind === "measure") onMeasure();
      else if (command.kind === "find") onFind();
      else {
        perform(store, command, command.kind === "press" ? takeRow() : null);
        if (latest.current.kind !== "one") show(NO_PREFIX);
      }
    },
    [store, counting, onMeasure, onFind, takeRow, show],
  );

  // A layout effect: a pad that is seen already takes keys.
  useLayoutEffect(() => {
    const onKeyDown = (event: KeyboardEvent): void => {
      const { categories, state } = store.state().count;
      if (event.isComposing || state === "closed" || belongsElsewhere(event)) return;
      const held = event.ctrlKey || event.altKey || event.metaKey;
      const key = { code: placeOnPad(event, categories), repeat: event.repeat, held };
      const command = padCommand(key, latest.current, categories);
      if (!command) return;
      event.preventDefault();
      run(command);
    };
    window.addEventListener("keydown", onKeyDown);
    return () => window.removeEventListener("keydown", onKeyDown);
  }, [store, run]);

  return { prefix, run };
}
