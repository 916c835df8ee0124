import { nextLabel } from "#core/measurement/next-label.ts";
import type { NewId, Step } from "./grid-effect.ts";
import { andThen, remark, step } from "./grid-effect.ts";
import { freshAt, type GridState, rowCount } from "./grid-state.ts";
import { toNextSpecimen } from "./moving.ts";
import { labelOf, setLabel } from "./typing.ts";

/**
 * The label proposed for a row: the number after that of the row above. Only for the blank row at the end, and only
 * where the label above ends in a number.
 */
export function proposedLabel(state: GridState, row: number): string | null {
  if (row === 0 || row !== rowCount(state) - 1 || !freshAt(state, row) || labelOf(state, row) !== "")
    return null;
  const above = labelOf(state, row - 1);
  const next = nextLabel(above);
  return next === above ? null : next;
}

/** To the next specimen; where the cursor stands on it already, its proposed label is taken. */
export function nextSpecimen(state: GridState, newId: NewId): Step {
  const { row } = state.cursor;
  const label = state.editing ? null : proposedLabel(state, row);
  if (label === null) return step(toNextSpecimen(state, newId));
  return andThen(setLabel(state, label, newId), (after) =>
    step(remark(after, `Row ${row + 1} is ${label}.`, null, true, label)),
  );
}
