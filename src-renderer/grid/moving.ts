import { cellTextAt } from "./cell-text.ts";
import { toNextUnread } from "./given-rows.ts";
import type { Movement } from "./grid-action.ts";
import { cellOf, columnOfKey, isEditable, isInLoop } from "./grid-columns.ts";
import type { Step } from "./grid-effect.ts";
import { remark, step } from "./grid-effect.ts";
import type { GridState, HalfTyped } from "./grid-state.ts";
import { activeCell, cellKey, firstReading, indexOfRow, recordAt, rowCount } from "./grid-state.ts";
import { withBlankRow } from "./outbox.ts";

/** Closes the editor; text that was typed and not taken stays in its cell as half-typed. */
export function leaveCell(state: GridState): Step {
  const cell = activeCell(state);
  const editing = state.editing;
  if (!editing || !cell) return step({ ...state, editing: null, turret: null });
  if (!editing.touched || editing.text === "") return step({ ...state, editing: null, turret: null });
  const kept: HalfTyped = { rowId: cell.rowId, columnKey: cell.column.key, text: editing.text };
  const halfTyped = new Map(state.halfTyped).set(cellKey(cell.rowId, cell.column.key), kept);
  const left = { ...state, editing: null, turret: null, halfTyped };
  if (cell.column.kind !== "reading") return step(left);
  return step(left, {
    type: "keepDraft",
    rowId: cell.rowId,
    cell: cellOf(cell.column),
    typed: editing.text,
    now: true,
  });
}

const clamp = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value));

/** Puts the cursor on a cell, as near as there is one. The editor must be closed. */
export function placeCursor(state: GridState, row: number, column: number): GridState {
  const cursor = {
    row: clamp(row, 0, rowCount(state) - 1),
    column: clamp(column, 0, state.columns.length - 1),
  };
  const moved = cursor.row !== state.cursor.row || cursor.column !== state.cursor.column;
  return { ...state, cursor, remark: moved ? null : state.remark };
}

/** One movement of the data grid pattern: at an edge the cursor stays. */
export function moveCursor(state: GridState, by: Movement): GridState {
  const { row, column } = state.cursor;
  const lastColumn = state.columns.length - 1;
  const targets: Readonly<Record<Movement, readonly [number, number]>> = {
    left: [row, column - 1],
    right: [row, column + 1],
    up: [row - 1, column],
    down: [row + 1, column],
    rowStart: [row, 0],
    rowEnd: [row, lastColumn],
    first: [0, 0],
    last: [rowCount(state) - 1, lastColumn],
    pageUp: [row - state.pageStep, column],
    pageDown: [row + state.pageStep, column],
  };
  const [toRow, toColumn] = targets[by];
  return placeCursor(state, toRow, toColumn);
}

/** To the blank row at the end. */
export function toNextSpecimen(state: GridState, newId: () => string): GridState {
  if (state.given) return toNextUnread(state, "specimen");
  const ready = withBlankRow(state, newId);
  return placeCursor(ready, rowCount(ready) - 1, firstReading(ready.columns));
}

/** After a reading: the next reading or coordinate of this row that is empty, else the first reading of the next row. */
export function toNextReading(state: GridState, newId: () => string): GridState {
  if (state.given) return toNextUnread(state, "cell");
  const { row, column } = state.cursor;
  const next = state.columns.findIndex(
    (one, at) => at > column && isInLoop(one) && cellTextAt(state, row, at).status === "empty",
  );
  if (next >= 0) return placeCursor(state, row, next);
  const ready = row === rowCount(state) - 1 ? withBlankRow(state, newId) : state;
  return placeCursor(ready, row + 1, firstReading(ready.columns));
}

/** After a label or note: the first empty reading of the row, else the next row. */
export function toOpenReading(state: GridState, newId: () => string): GridState {
  const before = { ...state, cursor: { row: state.cursor.row, column: -1 } };
  const moved = toNextReading(before, newId);
  return { ...moved, remark: state.remark };
}

/** The next or previous cell that takes text, through the ends of rows. */
export function toEditable(state: GridState, forwards: boolean): GridState {
  const columns = state.columns.length;
  const sign = forwards ? 1 : -1;
  let at = state.cursor.row * columns + state.cursor.column + sign;
  for (; at >= 0 && at < rowCount(state) * columns; at += sign) {
    const column = state.columns[at % columns];
    if (column && isEditable(column)) return placeCursor(state, Math.floor(at / columns), at % columns);
  }
  return state;
}

/** The reading or coordinate before the cursor, back through rows that are not struck; null at the start. */
export function previousReading(state: GridState): { readonly row: number; readonly column: number } | null {
  const columns = state.columns.length;
  for (let at = state.cursor.row * columns + state.cursor.column - 1; at >= 0; at -= 1) {
    const row = Math.floor(at / columns);
    if (isInLoop(state.columns[at % columns]) && !recordAt(state, row)?.struck)
      return { row, column: at % columns };
  }
  return null;
}

/** The next cell, after the cursor and round the end, whose text was refused or left half-typed. */
export function toNextRefused(state: GridState): GridState {
  const columns = state.columns.length;
  const here = state.cursor.row * columns + state.cursor.column;
  const waiting = [...state.refused.values(), ...state.halfTyped.values()]
    .map((one) => ({
      row: indexOfRow(state, one.rowId),
      column: columnOfKey(state.columns, one.columnKey),
    }))
    .filter((one) => one.row >= 0 && one.column >= 0)
    .map((one) => one.row * columns + one.column)
    .sort((a, b) => a - b);
  const target = waiting.find((at) => at > here) ?? waiting[0];
  if (target === undefined) return remark(state, "No reading is refused or half-typed.");
  return placeCursor(state, Math.floor(target / columns), target % columns);
}
