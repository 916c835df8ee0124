import { cellText, rowParts } from "./cell-text.ts";
import { remark } from "./grid-effect.ts";
import { type Cursor, cellKey, type GridState, rowCount, rowIdAt } from "./grid-state.ts";

const placeOf = (state: GridState, at: number): Cursor => ({
  row: Math.floor(at / state.columns.length),
  column: at % state.columns.length,
});

/** Whether a cell is to be read and holds nothing yet, neither stored nor on its way. */
function isUnread(state: GridState, at: number): boolean {
  const { row, column } = placeOf(state, at);
  const cell = state.columns[column];
  const rowId = rowIdAt(state, row);
  if (cell?.kind !== "reading" || rowId === undefined) return false;
  if (state.given?.notToRead.has(cellKey(rowId, cell.key))) return false;
  return cellText(state, rowParts(state, row), cell).status === "empty";
}

/** The first unread cell after a place and round the end; null when every one is read. */
function nextUnread(state: GridState, after: number): number | null {
  const cells = rowCount(state) * state.columns.length;
  for (let step = 1; step <= cells; step += 1) {
    const at = (after + step + cells) % cells;
    if (isUnread(state, at)) return at;
  }
  return null;
}

/** Where reading begins, or goes on after a break. */
export function firstUnread(state: GridState): Cursor {
  return placeOf(state, nextUnread(state, -1) ?? 0);
}

/** Whether nothing of the given rows is left to read. */
export function isAllRead(state: GridState): boolean {
  return nextUnread(state, -1) === null;
}

/** To the next unread cell, from the cursor or (`specimen`) from the end of its row; it stays when none is left. */
export function toNextUnread(state: GridState, from: "cell" | "specimen"): GridState {
  const { row, column } = state.cursor;
  const columns = state.columns.length;
  const at = nextUnread(state, row * columns + (from === "cell" ? column : columns - 1));
  if (at === null) return remark(state, "Every reading is there.", null, true);
  return { ...state, cursor: placeOf(state, at), remark: null };
}
