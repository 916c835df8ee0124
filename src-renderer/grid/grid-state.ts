import type { ReadingCell, RowsChanged, SpecimenRow, StagePosition } from "#core/contract/records/sheet.ts";
import { columnInRow, type GridColumn } from "./grid-columns.ts";

/** Rows are fetched, kept and dropped in pages of this many ordinals. */
export const PAGE_ROWS = 100;

/** A row that this window has begun and the service has not yet acknowledged. */
export interface FreshRow {
  readonly id: string;
  readonly label: string;
  readonly note: string;
  /** Left out while nothing of it was typed. */
  readonly stage?: StagePosition;
}

/** A column of text about a row as a whole. */
export type RowText = "label" | "note" | "stage.x" | "stage.y" | "stage.square";

/** One act on its way to the service. They go one at a time, in order: a row's ordinal and its objective depend on it. */
export type Outgoing =
  | {
      readonly kind: "enter";
      readonly requestId: string;
      readonly rowId: string;
      readonly cell: ReadingCell;
      readonly typed: string;
      readonly label: string;
      /** The objective it will be converted with if it begins a measurement. */
      readonly objectiveId: string;
    }
  | {
      readonly kind: "describe";
      readonly requestId: string;
      readonly rowId: string;
      readonly label: string;
      readonly note: string;
      /** Left out: it stays as it is. */
      readonly stage?: StagePosition;
      readonly changed: RowText;
    }
  | { readonly kind: "strike"; readonly requestId: string; readonly rowId: string; readonly reason: string }
  | { readonly kind: "objective"; readonly requestId: string; readonly objectiveId: string }
  /** Undo or redo, in its place in the queue: it concerns what was sent before it. */
  | { readonly kind: "undo"; readonly requestId: string }
  | { readonly kind: "redo"; readonly requestId: string };

/** Text that was not taken: it stays in its cell with what was wrong and what to do. */
export interface RefusedText {
  readonly rowId: string;
  readonly columnKey: string;
  readonly typed: string;
  readonly message: string;
}

/** Half-typed text of a cell the cursor has left, or that came back after a crash. */
export interface HalfTyped {
  readonly rowId: string;
  readonly columnKey: string;
  readonly text: string;
}

export interface Editing {
  readonly text: string;
  /** `replace`: typing over, arrows take the text and move on; `edit`: F2, arrows move the caret. */
  readonly mode: "replace" | "edit";
  /** False while the cell still holds the text it was opened with. */
  readonly touched: boolean;
}

/** Something the grid says, at a cell or in general. `serial` grows so that the same words are said again. */
export interface Remark {
  readonly text: string;
  readonly cell: string | null;
  readonly serial: number;
  /** True when it tells what was done; false when it tells why a key did nothing, or asks. */
  readonly done: boolean;
  /** It tells of an act that can be taken back, while nothing else has been done since. */
  readonly undoable?: true;
  /** Of what was done, the words for the ear; left out: a tone says enough. */
  readonly spoken?: string;
}

export interface Cursor {
  /** 0-based, in display order: acknowledged rows by ordinal, then the fresh ones. */
  readonly row: number;
  readonly column: number;
}

/**
 * What is selected, kept as its two ends whatever the number of rows between them. It lives while the cursor stands at
 * `focus` and no editor is open.
 */
export interface Selection {
  readonly kind: "cells" | "rows" | "columns" | "all";
  readonly anchor: Cursor;
  readonly focus: Cursor;
}

export interface TurretObjective {
  readonly id: string;
  readonly position: number;
}

type Page = readonly (SpecimenRow | undefined)[];

/** Everything the grid knows, as a plain value. */
export interface GridState {
  readonly columns: readonly GridColumn[];
  readonly objectives: readonly TurretObjective[];
  /** Acknowledged rows of the sheet. */
  readonly total: number;
  readonly pages: readonly (Page | undefined)[];
  /** Pages asked for and not yet here. */
  readonly asked: readonly number[];
  /** The last one is always blank: the next specimen. */
  readonly fresh: readonly FreshRow[];
  /** Set where the rows are given and none can be begun; with the cells in which there is nothing to read. */
  readonly given?: { readonly notToRead: ReadonlySet<string> };
  readonly cursor: Cursor;
  /** Null: no more than the cell of the cursor. */
  readonly selection: Selection | null;
  readonly editing: Editing | null;
  /** Digits typed after `/`; null when no objective is being chosen. */
  readonly turret: string | null;
  readonly halfTyped: ReadonlyMap<string, HalfTyped>;
  readonly refused: ReadonlyMap<string, RefusedText>;
  readonly outbox: readonly Outgoing[];
  /** Request under way; null when nothing is, or while waiting to try again. */
  readonly underWay: string | null;
  readonly hostLost: boolean;
  /** As the service knows it; `objectiveInUse` adds what is on its way. */
  readonly objectiveId: string;
  /** Distinct labels met on this sheet, for completion. */
  readonly labels: readonly string[];
  /** Rows moved by PageUp and PageDown: the visible ones less one. */
  readonly pageStep: number;
  readonly remark: Remark | null;
  /** The last dimension that was completed and acknowledged. */
  readonly lastResult: { readonly row: SpecimenRow; readonly dimension: string } | null;
  /** The row acknowledged last, whatever was done to it. */
  readonly lastStored: SpecimenRow | null;
  /** What the last undo, redo or other act on many rows changed. */
  readonly lastChanged: RowsChanged | null;
}

export interface NewGrid {
  readonly columns: readonly GridColumn[];
  readonly objectives: readonly TurretObjective[];
  readonly objectiveId: string;
  readonly total: number;
  readonly firstRowId: string;
}

/** An opened sheet before any page has arrived: the cursor stands at the next specimen's first reading. */
export function newGrid(given: NewGrid): GridState {
  const { firstRowId, ...rest } = given;
  return {
    ...rest,
    pages: [],
    asked: [],
    fresh: [{ id: firstRowId, label: "", note: "" }],
    cursor: { row: given.total, column: Math.max(0, firstReading(given.columns)) },
    selection: null,
    editing: null,
    turret: null,
    halfTyped: new Map(),
    refused: new Map(),
    outbox: [],
    underWay: null,
    hostLost: false,
    labels: [],
    pageStep: 10,
    remark: null,
    lastResult: null,
    lastStored: null,
    lastChanged: null,
  };
}

export function firstReading(columns: readonly GridColumn[]): number {
  return columns.findIndex((column) => column.kind === "reading");
}

export function cellKey(rowId: string, columnKey: string): string {
  return `${rowId}/${columnKey}`;
}

export function rowCount(state: GridState): number {
  return state.total + state.fresh.length;
}

/** The stored row at a 0-based index; undefined when it is fresh or its page is not here. */
export function recordAt(state: GridState, index: number): SpecimenRow | undefined {
  if (index < 0 || index >= state.total) return undefined;
  return state.pages[Math.floor(index / PAGE_ROWS)]?.[index % PAGE_ROWS];
}

export function freshAt(state: GridState, index: number): FreshRow | undefined {
  return index < state.total ? undefined : state.fresh[index - state.total];
}

/** The id of the row at an index; undefined while its page is not here. */
export function rowIdAt(state: GridState, index: number): string | undefined {
  return recordAt(state, index)?.id ?? freshAt(state, index)?.id;
}

/** The index of a row among the fresh and the loaded ones; −1 when it is not here. */
export function indexOfRow(state: GridState, rowId: string): number {
  const fresh = state.fresh.findIndex((row) => row.id === rowId);
  if (fresh >= 0) return state.total + fresh;
  for (let page = 0; page < state.pages.length; page += 1) {
    const slot = state.pages[page]?.findIndex((row) => row?.id === rowId) ?? -1;
    if (slot >= 0) return page * PAGE_ROWS + slot;
  }
  return -1;
}

export function columnAt(state: GridState, column: number): GridColumn | undefined {
  return state.columns[column];
}

/** The cell under the cursor; null on a row that is not loaded. */
export function activeCell(state: GridState): { readonly rowId: string; readonly column: GridColumn } | null {
  const rowId = rowIdAt(state, state.cursor.row);
  const column = columnAt(state, state.cursor.column);
  if (rowId === undefined || !column) return null;
  return { rowId, column: columnInRow(column, recordAt(state, state.cursor.row), state.columns) };
}

/** The objective the next reading will be converted with: the last change on its way, else the stored one. */
export function objectiveInUse(state: GridState): string {
  return state.outbox.findLast((item) => item.kind === "objective")?.objectiveId ?? state.objectiveId;
}
