import type { RowsChanged } from "#core/contract/records/sheet.ts";
import type { ReplyAction } from "./grid-action.ts";
import type { GridEffect, NewId, Step } from "./grid-effect.ts";
import { remark, step } from "./grid-effect.ts";
import { type GridState, PAGE_ROWS, rowIdAt } from "./grid-state.ts";
import { answered, sendHead, withBlankRow } from "./outbox.ts";
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

/** Few changed rows come with the reply; many are fetched again as they are looked at. */
function placed(state: GridState, changed: RowsChanged): Step {
  const shown = shortenedTo(state, changed.total);
  if (changed.rows.length === changed.count - changed.gone.length) {
    return step(placeRows(shown, changed.rows, changed.total));
  }
  const page = Math.floor(Math.min(shown.cursor.row, Math.max(0, changed.total - 1)) / PAGE_ROWS);
  const load: GridEffect = { type: "load", page, later: false };
  return step({ ...shown, pages: [], total: changed.total, asked: [page] }, load);
}

/** An undo or redo came back: the rows show what it left, and the words say what it did. */
export function takenBack(
  state: GridState,
  { requestId, undone }: Extract<ReplyAction, { type: "takenBack" }>,
  newId: NewId,
): Step {
  const done = answered(state, requestId);
  if (!done) return step(state);
  const { changed, words } = undone;
  const shown = placed(done.state, changed);
  const lost = rowIdAt(shown.state, shown.state.cursor.row) === undefined && shown.state.asked.length === 0;
  const home = lost
    ? { ...shown.state, cursor: { ...shown.state.cursor, row: shown.state.total } }
    : shown.state;
  const lastResult =
    home.lastResult && changed.gone.includes(home.lastResult.row.id) ? null : home.lastResult;
  const said = remark({ ...home, lastResult, lastChanged: changed }, words, null, true);
  const next = sendHead(withBlankRow(said, newId));
  return { state: next.state, effects: [...shown.effects, ...next.effects] };
}
