import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { Movement } from "./grid-action.ts";
import type { Cursor, GridState, Selection } from "./grid-state.ts";
import { rowCount } from "./grid-state.ts";
import { moveCursor, placeCursor } from "./moving.ts";

/** What a selection covers: 0-based, both ends included. */
export interface Rectangle {
  readonly fromRow: number;
  readonly toRow: number;
  readonly fromColumn: number;
  readonly toColumn: number;
}

/** The selected columns of one row: 0-based, both ends included. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

const sameCell = (a: Cursor, b: Cursor): boolean => a.row === b.row && a.column === b.column;

function selecting(state: GridState, kind: Selection["kind"], moved: GridState): GridState {
  const anchor = state.selection?.anchor ?? state.cursor;
  return { ...moved, selection: { kind, anchor, focus: moved.cursor } };
}

/** Extends the selection by one movement of the focus; rows stay rows and columns stay columns. */
export function extendSelection(state: GridState, by: Movement): GridState {
  const kind = state.selection?.kind ?? "cells";
  return selecting(state, kind === "all" ? "cells" : kind, moveCursor(state, by));
}

/** Extends the selection to a cell, as a press of the mouse with Shift does. */
export function extendSelectionTo(state: GridState, row: number, column: number): GridState {
  return selecting(state, "cells", placeCursor(state, row, column));
}

/** Selects the rows or columns that the selection touches, those of the cursor without one, or everything. */
export function selectWhole(state: GridState, kind: "rows" | "columns" | "all"): GridState {
  return selecting(state, kind, state);
}

export function withoutSelection(state: GridState): GridState {
  return state.selection === null ? state : { ...state, selection: null };
}

/** Drops a selection that the cursor has left, or over which something is typed. */
export function withLivingSelection(state: GridState): GridState {
  const { selection } = state;
  if (selection === null) return state;
  const lives = state.editing === null && state.turret === null && sameCell(selection.focus, state.cursor);
  return lives ? state : withoutSelection(state);
}

/** The last row is the blank one, the next specimen: whole columns end above it. */
function lastRowOfColumns(state: GridState): number {
  return Math.max(0, rowCount(state) - 2);
}

/** What is selected; null when nothing is beside the cell of the cursor. Costs the same for any number of rows. */
export function selectedRectangle(state: GridState): Rectangle | null {
  const { selection } = state;
  if (selection === null) return null;
  const { kind, anchor } = selection;
  const { cursor } = state;
  const ownsRows = kind === "cells" || kind === "rows";
  const ownsColumns = kind === "cells" || kind === "columns";
  const lastColumn = state.columns.length - 1;
  return {
    fromRow: ownsRows ? Math.min(anchor.row, cursor.row) : 0,
    toRow: ownsRows
      ? Math.min(rowCount(state) - 1, Math.max(anchor.row, cursor.row))
      : lastRowOfColumns(state),
    fromColumn: ownsColumns ? Math.min(anchor.column, cursor.column) : 0,
    toColumn: ownsColumns ? Math.max(anchor.column, cursor.column) : lastColumn,
  };
}

/** The part of a row that is selected; null: none of it. */
export function selectedSpan(state: GridState, row: number): Span | null {
  const rectangle = selectedRectangle(state);
  if (rectangle === null || row < rectangle.fromRow || row > rectangle.toRow) return null;
  return { from: rectangle.fromColumn, to: rectangle.toColumn };
}

export function sameSpan(a: Span | null, b: Span | null): boolean {
  return a === b || (a !== null && b !== null && a.from === b.from && a.to === b.to);
}

/** What is selected, in words for the eye and for a screen reader; null: nothing. */
export function selectionWords(state: GridState): string | null {
  const rectangle = selectedRectangle(state);
  if (rectangle === null || state.selection === null) return null;
  const rows = rectangle.toRow - rectangle.fromRow + 1;
  const columns = rectangle.toColumn - rectangle.fromColumn + 1;
  const { kind } = state.selection;
  if (kind === "all") return `All ${countedNoun(rows, "row")} selected`;
  if (kind === "rows") return `${countedNoun(rows, "row")} selected`;
  if (kind === "columns") return `${countedNoun(columns, "column")} of ${countedNoun(rows, "row")} selected`;
  if (rows === 1 && columns === 1) return "1 cell selected";
  return `${countedNoun(rows, "row")} × ${countedNoun(columns, "column")} selected`;
}
