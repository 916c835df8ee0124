import type { MouseEvent } from "react";
import { flushSync } from "react-dom";
import type { Cursor } from "./grid-state.ts";
import type { GridStore } from "./grid-store.ts";
import { selectedRectangle } from "./selection.ts";

/** The cell of the grid under the pointer. */
function cellUnder(event: MouseEvent): Cursor | null {
  const cell = (event.target as Element).closest<HTMLElement>("[data-column]");
  const row = cell?.closest<HTMLElement>("[data-row]");
  return cell && row ? { row: Number(row.dataset.row), column: Number(cell.dataset.column) } : null;
}

function isSelected({ row, column }: Cursor, store: GridStore): boolean {
  const all = selectedRectangle(store.state());
  return (
    all !== null &&
    row >= all.fromRow &&
    row <= all.toRow &&
    column >= all.fromColumn &&
    column <= all.toColumn
  );
}

/** A press puts the cursor on a cell; with Shift it extends the selection to it. The menu's button leaves a selection. */
export function pressOnCell(event: MouseEvent, store: GridStore, focusActive: () => void): void {
  if (event.target instanceof HTMLInputElement) return;
  const cell = cellUnder(event);
  if (!cell) return;
  // Without this the browser would move the focus to whatever lies under the pointer.
  event.preventDefault();
  if (event.button === 2 && isSelected(cell, store)) return;
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
