import type { RowsChanged } from "#core/contract/records/sheet.ts";
import type { GridEffect, NewId, Step } from "./grid-effect.ts";
import { remark, step } from "./grid-effect.ts";
import { type GridState, PAGE_ROWS, rowIdAt } from "./grid-state.ts";
import { withBlankRow } from "./outbox.ts";
import { placeRows } from "./paging.ts";

/** Slots beyond the sheet's last row are emptied: an undo may have taken rows away. */
function shortenedTo(state: GridState, total: number): GridState {
  if (total >= state.total) return state;
  const onFresh = state.cursor.row - state.total;
  const pages = state.pages
    .slice(0, Math.ceil(total / PAGE_ROWS))
    .map((page, at) => page?.slice(0, Math.max(0, total - at * PAGE_ROWS)));
  const row = onFresh >= 0 ? total + onFresh : Math.min(state.cursor.row, total);
  return { ...state, pages, total, cursor: { ...state.cursor, row } };
}

/** Fetches the page of the cursor again and those beside it, which may be in sight as well. */
function fetchedAgain(state: GridState, total: number): Step {
  const added = Math.max(0, total - state.total);
  const onFresh = state.cursor.row >= state.total;
  const cursor = { ...state.cursor, row: state.cursor.row + (onFresh ? added : 0) };
  const last = Math.floor(Math.max(0, total - 1) / PAGE_ROWS);
  const page = Math.min(last, Math.floor(cursor.row / PAGE_ROWS));
  const asked = [page, page - 1, page + 1].filter((one) => one >= 0 && one <= last);
  const loads = asked.map((one): GridEffect => ({ type: "load", page: one, later: false }));
  return step({ ...state, pages: [], total, cursor, asked }, ...loads);
}

/** Few changed rows come with the reply; many are fetched again as they are looked at. */
function placed(state: GridState, changed: RowsChanged): Step {
  const shown = shortenedTo(state, changed.total);
  if (changed.rows.length === changed.count - changed.gone.length) {
    return step(placeRows(shown, changed.rows, changed.total));
  }
  return fetchedAgain(shown, changed.total);
}

/** An act on several rows is done: the grid shows what it left, and the words say what it did. */
export function rowsChanged(
  state: GridState,
  changed: RowsChanged,
  words: string,
  newId: NewId,
  say: (state: GridState, words: string) => GridState = (told, text) => remark(told, text, null, true),
): Step {
  const shown = placed(state, changed);
  const lost = rowIdAt(shown.state, shown.state.cursor.row) === undefined && shown.state.asked.length === 0;
  const home = lost
    ? { ...shown.state, cursor: { ...shown.state.cursor, row: shown.state.total } }
    : shown.state;
  const lastResult =
    home.lastResult && changed.gone.includes(home.lastResult.row.id) ? null : home.lastResult;
  const said = say({ ...home, lastResult, lastChanged: changed }, words);
  return { state: withBlankRow(said, newId), effects: shown.effects };
}
