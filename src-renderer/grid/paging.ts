import type { CellDraft, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { ReplyAction } from "./grid-action.ts";
import { columnOfKey, readingKey } from "./grid-columns.ts";
import type { NewId, Step } from "./grid-effect.ts";
import { step } from "./grid-effect.ts";
import type { GridState, HalfTyped } from "./grid-state.ts";
import { cellKey, indexOfRow, PAGE_ROWS, rowIdAt } from "./grid-state.ts";
import { withBlankRow } from "./outbox.ts";
import { withLabel } from "./typing.ts";

/** Pages kept in the window; those farthest from the cursor go first. */
export const MOST_PAGES = 80;
/** Rows fetched beyond the visible ones. */
const MARGIN = 50;

/**
 * Puts stored rows in their places. A row that this window began stops being fresh; the cursor stays on the row it
 * is on, even when that row's index changes.
 */
export function placeRows(
  state: GridState,
  rows: readonly SpecimenRow[],
  total: number,
  overwrite = true,
): GridState {
  const onRow = rowIdAt(state, state.cursor.row);
  const pages = state.pages.slice();
  const copied = new Map<number, (SpecimenRow | undefined)[]>();
  for (const row of rows) {
    const page = Math.floor((row.ordinal - 1) / PAGE_ROWS);
    const slots = copied.get(page) ?? [...(pages[page] ?? [])];
    copied.set(page, slots);
    const slot = (row.ordinal - 1) % PAGE_ROWS;
    if (overwrite || slots[slot] === undefined) slots[slot] = row;
  }
  for (const [page, slots] of copied) pages[page] = slots;
  const stored = new Set(rows.map((row) => row.id));
  const next: GridState = {
    ...state,
    pages,
    total: Math.max(state.total, total),
    fresh: state.fresh.some((row) => stored.has(row.id))
      ? state.fresh.filter((row) => !stored.has(row.id))
      : state.fresh,
  };
  const labelled = rows.reduce((labelling, row) => withLabel(labelling, row.label), next);
  return keepCursorOn(labelled, onRow);
}

function keepCursorOn(state: GridState, rowId: string | undefined): GridState {
  if (rowId === undefined || rowIdAt(state, state.cursor.row) === rowId) return state;
  const row = indexOfRow(state, rowId);
  return row < 0 ? state : { ...state, cursor: { ...state.cursor, row } };
}

function isComplete(state: GridState, page: number): boolean {
  const slots = state.pages[page];
  const wanted = Math.min(PAGE_ROWS, state.total - page * PAGE_ROWS);
  if (!slots || slots.length < wanted) return false;
  return !slots.includes(undefined);
}

/** Asks for the pages that the visible rows need. */
export function lookAt(state: GridState, first: number, last: number, pageStep: number): Step {
  const from = Math.max(0, Math.floor((first - MARGIN) / PAGE_ROWS));
  const to = Math.floor(Math.min(state.total - 1, last + MARGIN) / PAGE_ROWS);
  const wanted: number[] = [];
  for (let page = from; page <= to; page += 1) {
    if (!state.asked.includes(page) && !isComplete(state, page)) wanted.push(page);
  }
  if (wanted.length === 0 && pageStep === state.pageStep) return step(state);
  const next = { ...state, pageStep, asked: [...state.asked, ...wanted] };
  return step(next, ...wanted.map((page) => ({ type: "load", page, later: false }) as const));
}

export function pageArrived(
  state: GridState,
  { from, rows, total }: Extract<ReplyAction, { type: "pageArrived" }>,
  newId: NewId,
): GridState {
  const page = Math.floor((from - 1) / PAGE_ROWS);
  // What a reply has stored meanwhile is newer than what this page was read with.
  const placed = placeRows(state, rows, total, false);
  const asked = placed.asked.filter((one) => one !== page);
  return withBlankRow(withoutFarPages({ ...placed, asked }, page), newId);
}

function withoutFarPages(state: GridState, arrived: number): GridState {
  const held = state.pages.flatMap((page, at) => (page ? [at] : []));
  if (held.length <= MOST_PAGES) return state;
  const home = Math.floor(state.cursor.row / PAGE_ROWS);
  const distance = (page: number): number => Math.min(Math.abs(page - home), Math.abs(page - arrived));
  const far = held.sort((a, b) => distance(b) - distance(a)).slice(0, held.length - MOST_PAGES);
  const pages = state.pages.slice();
  for (const page of far) pages[page] = undefined;
  return { ...state, pages };
}

/**
 * Half-typed text from before the window went away. A row that no page holds was never stored: it becomes a fresh
 * row again. The cursor goes to the last of the texts with its editor open.
 */
export function draftsArrived(state: GridState, drafts: readonly CellDraft[], newId: NewId): GridState {
  if (drafts.length === 0) return state;
  const halfTyped = new Map(state.halfTyped);
  const begun = state.fresh.slice(0, -1);
  for (const draft of drafts) {
    const columnKey = readingKey(draft.cell);
    if (columnOfKey(state.columns, columnKey) < 0) continue;
    const half: HalfTyped = { rowId: draft.rowId, columnKey, text: draft.typed };
    halfTyped.set(cellKey(draft.rowId, columnKey), half);
    const known = indexOfRow(state, draft.rowId) >= 0 || begun.some((row) => row.id === draft.rowId);
    if (!known) begun.push({ id: draft.rowId, label: "", note: "" });
  }
  const restored = withBlankRow({ ...state, halfTyped, fresh: [...begun, ...state.fresh.slice(-1)] }, newId);
  const last = [...halfTyped.values()].at(-1);
  const row = last ? indexOfRow(restored, last.rowId) : -1;
  if (!last || row < 0 || state.editing) return restored;
  const column = columnOfKey(restored.columns, last.columnKey);
  return {
    ...restored,
    cursor: { row, column },
    editing: { text: last.text, mode: "replace", touched: true },
  };
}
