import { type RefObject, useCallback, useLayoutEffect, useRef } from "react";
import { useLivePart } from "../live/use-live-part.ts";
import type { GridState } from "./grid-state.ts";
import type { GridStore } from "./grid-store.ts";

const place = (state: GridState): string =>
  `${state.cursor.row}/${state.cursor.column}/${state.editing === null ? "cell" : "editor"}`;

const modeOf = (state: GridState) => state.editing?.mode ?? null;

/** The cell of the cursor, or its open editor, has the real focus (roving tabindex) while the grid has it. */
export function useCellFocus(store: GridStore, grid: RefObject<HTMLElement | null>): () => boolean {
  const focusActive = useCallback((): boolean => {
    const active = grid.current?.querySelector<HTMLElement>("[data-active-cell]");
    const editor = active?.querySelector("input");
    const target = editor ?? active;
    if (!target) return false;
    if (target === document.activeElement) return true;
    target.focus({ preventScroll: true });
    active?.scrollIntoView({ block: "nearest", inline: "nearest" });
    if (editor) placeCaret(editor, store.state());
    // Not so behind an open dialog.
    return document.activeElement === target;
  }, [store, grid]);

  const where = useLivePart(store, place);
  const isOpened = useRef(false);
  const holderAtFirst = useRef<Element | null | undefined>(undefined);
  // The grid takes the focus when its screen opens, as soon as the row of the cursor is drawn, which is not at once; it never
  // takes it from a control that somebody has gone to meanwhile.
  useLayoutEffect(() => {
    if (isOpened.current) return;
    const holder = document.activeElement;
    if (holderAtFirst.current === undefined) holderAtFirst.current = holder;
    const isFree = holder === holderAtFirst.current || holder === null || holder === document.body;
    isOpened.current = !isFree || focusActive();
  });
  // biome-ignore lint/correctness/useExhaustiveDependencies: the focus follows the place of the cursor
  useLayoutEffect(() => {
    const holder = document.activeElement;
    const owns = holder === null || holder === document.body || grid.current?.contains(holder);
    if (owns) focusActive();
  }, [where, focusActive, grid]);

  const mode = useLivePart(store, modeOf);
  useLayoutEffect(() => {
    const editor = document.activeElement;
    // F2 keeps what is there: the caret goes behind it.
    if (mode === "edit" && editor instanceof HTMLInputElement && grid.current?.contains(editor)) {
      editor.setSelectionRange(editor.value.length, editor.value.length);
    }
  }, [mode, grid]);
  return focusActive;
}

/** Text opened to be typed over is selected whole; otherwise the caret stands at the end. */
function placeCaret(editor: HTMLInputElement, { editing }: GridState): void {
  const end = editor.value.length;
  editor.setSelectionRange(editing?.mode === "replace" && !editing.touched ? 0 : end, end);
}
