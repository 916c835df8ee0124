import { useEffect } from "react";
import { onlyCell, pastedCells } from "../../../grid/clipboard-text.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { pictureFileOf } from "../../../parts/attachments/picture-file.ts";

/** True when what is copied or pasted is the grid's: the focus is in it, or nowhere, and no question is open. */
function isForGrid({ target }: Event): boolean {
  if (document.querySelector("dialog[open]") || !(target instanceof Element)) return false;
  const holder = document.activeElement;
  if (holder === null || holder === document.body) return true;
  // Where text was marked last, as in a menu that is gone, an event may name another element than that of the focus.
  return [target, holder].some((element) => element.closest("[role=grid]") !== null);
}

export interface ClipboardUse {
  readonly store: GridStore;
  readonly copy: (event: ClipboardEvent) => void;
  /** Several cells were pasted. */
  readonly onBlock: (lines: readonly (readonly string[])[], text: string) => void;
  /** A picture without any text was pasted. */
  readonly onPicture: (file: File) => void;
}

/**
 * Answers the browser's own copy and paste while the grid has the focus. In an open editor they are the text's, but for
 * a paste of several cells, which no single cell can take: what stood in the editor stays half-typed. A picture goes to the
 * row; spreadsheets put one beside their cells, which are what is meant then.
 */
export function useClipboardEvents({ store, copy, onBlock, onPicture }: ClipboardUse): void {
  useEffect(() => {
    const onCopy = (event: ClipboardEvent): void => {
      if (isForGrid(event) && store.state().editing === null) copy(event);
    };
    const pastePicture = (event: ClipboardEvent): void => {
      const picture = pictureFileOf(event.clipboardData);
      if (!picture) return;
      event.preventDefault();
      onPicture(picture);
    };
    const onPaste = (event: ClipboardEvent): void => {
      const text = event.clipboardData?.getData("text/plain") ?? "";
      if (!isForGrid(event)) return;
      if (text.trim() === "") {
        pastePicture(event);
        return;
      }
      const lines = pastedCells(text);
      const only = onlyCell(lines);
      if (only !== null && store.state().editing !== null) return;
      event.preventDefault();
      if (only !== null) store.dispatch({ type: "pasteText", text: only });
      else {
        store.dispatch({ type: "blurred" });
        onBlock(lines, text);
      }
    };
    document.addEventListener("copy", onCopy);
    document.addEventListener("paste", onPaste);
    return () => {
      document.removeEventListener("copy", onCopy);
      document.removeEventListener("paste", onPaste);
    };
  }, [store, copy, onBlock, onPicture]);
}
