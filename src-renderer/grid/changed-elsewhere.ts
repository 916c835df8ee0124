import type { RowsChanged, SpecimenRow } from "#core/contract/records/sheet.ts";
import { rowsChanged } from "./changed-rows.ts";
import type { ReplyAction } from "./grid-action.ts";
import type { NewId, Step } from "./grid-effect.ts";
import { step } from "./grid-effect.ts";
import { type GridState, indexOfRow, recordAt } from "./grid-state.ts";

function isAsHeld(state: GridState, row: SpecimenRow): boolean {
  const held = recordAt(state, row.ordinal - 1);
  return held !== undefined && JSON.stringify(held) === JSON.stringify(row);
}

/** What of it this window does not show yet; null: it has all of it, because it did it itself. */
function newsOf(state: GridState, changed: RowsChanged): RowsChanged | null {
  const gone = changed.gone.filter((id) => indexOfRow(state, id) >= 0 && indexOfRow(state, id) < state.total);
  const isWhole = changed.rows.length === changed.count - changed.gone.length;
  if (!isWhole) return { ...changed, gone };
  const rows = changed.rows.filter((row) => !isAsHeld(state, row));
  if (rows.length === 0 && gone.length === 0 && changed.total === state.total) return null;
  const ordinals = rows.map((row) => row.ordinal);
  return {
    count: rows.length + gone.length,
    from: ordinals[0] ?? null,
    to: ordinals.at(-1) ?? null,
    rows,
    gone,
    total: changed.total,
  };
}

function wordsOf({ count }: RowsChanged): string {
  const rows = count === 1 ? "One row was" : `${count} rows were`;
  return `${rows} changed elsewhere, by a re-evaluation or in another window: the sheet shows what is stored now.`;
}

/**
 * Rows and the objective in use as the service has them now, whoever changed them. What this window has done itself, it
 * shows already; text that is being typed stays.
 */
export function changedElsewhere(
  state: GridState,
  { changed, objectiveId }: Extract<ReplyAction, { type: "changedElsewhere" }>,
  newId: NewId,
): Step {
  const inUse = state.objectiveId === objectiveId ? state : { ...state, objectiveId };
  const news = changed && newsOf(inUse, changed);
  return news ? rowsChanged(inUse, news, wordsOf(news), newId) : step(inUse);
}
