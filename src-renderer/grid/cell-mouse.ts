import type { MouseEvent } from "react";
import { flushSync } from "react-dom";
import type { Cursor } from "./grid-state.ts";
import type { GridStore } from "./grid-store.ts";

/** The cell of the grid under the pointer. */
function cellUnder(event: MouseEvent): Cursor | null {
  const cell = (event.target as Element).closest<HTMLElement>("[data-column]");
  const row = cell?.closest<HTMLElement>("[data-row]");
  return cell && row ? { row: Number(row.dataset.row), column: Number(cell.dataset.column) } : null;
}

/** A press puts the cursor on a cell; with Shift it extends the selection to it. */
export function pressOnCell(event: MouseEvent, store: GridStore, focusActive: () => void): void {
  if (event.target instanceof HTMLInputElement) return;
  const cell = cellUnder(event);
  if (!cell) return;
  // Without this the browser would move the focus to whatever lies under the pointer.
  event.preventDefault();
  flushSync(() => store.dispatch({ type: event.shiftKey ? "extendTo" : "focusCell", ...cell }));
  focusActive();
}

/** With the button held the selection follows the pointer. */
export function dragOverCell(event: MouseEvent, store: GridStore): void {
  const isDragging = event.buttons === 1 && !(event.target instanceof HTMLInputElement);
  const cell = isDragging ? cellUnder(event) : null;
  if (!cell) return;
  const { cursor, editing } = store.state();
  const isElsewhere = cell.row !== cursor.row || cell.column !== cursor.column;
  // A drag out of an open editor marks its text.
  if (isElsewhere && editing === null) store.dispatch({ type: "extendTo", ...cell });
}
