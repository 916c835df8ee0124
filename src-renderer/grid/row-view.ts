import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { type CellText, cellText, rowParts } from "./cell-text.ts";
import { columnInRow, isEditable } from "./grid-columns.ts";
import type { Editing, GridState, Remark } from "./grid-state.ts";
import { freshAt, objectiveInUse, recordAt, rowCount } from "./grid-state.ts";
import { proposedLabel } from "./label-numbering.ts";
import { type Span, sameSpan, selectedSpan } from "./selection.ts";

/** Everything one row on screen is drawn from; equal views draw equal rows. */
export interface RowView {
  readonly index: number;
  readonly rowId: string | undefined;
  /** False while its page is on the way. */
  readonly here: boolean;
  readonly record: SpecimenRow | undefined;
  /** By column; null in columns that take no text. */
  readonly texts: readonly (CellText | null)[];
  /** Column of the cursor; −1 when it is on another row. */
  readonly active: number;
  readonly selected: Span | null;
  readonly editing: Editing | null;
  readonly remark: Remark | null;
  /** By column: the objective a reading on its way was typed for. */
  readonly typedFor: readonly (string | null)[];
  /** The objective a new measurement in this row would be converted with. */
  readonly objectiveInUse: string;
  /** What + would call the blank row at the end; null on other rows. */
  readonly proposed: string | null;
}

export function rowView(state: GridState, index: number): RowView {
  const parts = rowParts(state, index);
  const isActive = state.cursor.row === index;
  return {
    index,
    rowId: parts.rowId,
    here: parts.rowId !== undefined,
    record: parts.record,
    texts: state.columns.map((column) =>
      isEditable(columnInRow(column, parts.record, state.columns)) ? cellText(state, parts, column) : null,
    ),
    active: isActive ? state.cursor.column : -1,
    selected: selectedSpan(state, index),
    editing: isActive ? state.editing : null,
    remark:
      state.remark?.cell && parts.rowId && state.remark.cell.startsWith(`${parts.rowId}/`)
        ? state.remark
        : null,
    typedFor: typedFor(state, parts.rowId),
    objectiveInUse: objectiveInUse(state),
    proposed: proposedLabel(state, index),
  };
}

/** The label proposed for the last row comes from the row above. */
function sameAbove(a: GridState, b: GridState, index: number): boolean {
  const isLast = index === rowCount(b) - 1;
  if (isLast !== (index === rowCount(a) - 1)) return false;
  if (!isLast) return true;
  return recordAt(a, index - 1) === recordAt(b, index - 1) && freshAt(a, index - 1) === freshAt(b, index - 1);
}

/** The parts of the grid's state that a view is made of, beside whether the cursor is in the row. */
function sameSources(a: GridState, b: GridState, index: number): boolean {
  return (
    a.columns === b.columns &&
    a.halfTyped === b.halfTyped &&
    a.refused === b.refused &&
    a.outbox === b.outbox &&
    a.remark === b.remark &&
    a.objectiveId === b.objectiveId &&
    recordAt(a, index) === recordAt(b, index) &&
    freshAt(a, index) === freshAt(b, index) &&
    sameAbove(a, b, index) &&
    sameSpan(selectedSpan(a, index), selectedSpan(b, index))
  );
}

const isIn = ({ cursor }: GridState, index: number): boolean => cursor.row === index;

/**
 * The views of one row, one after another. A row the cursor is not in is looked at only when something it is made of has
 * changed: a key typed elsewhere costs it a few comparisons.
 */
export function rowViews(index: number): (state: GridState) => RowView {
  let last: { readonly state: GridState; readonly view: RowView } | null = null;
  return (state) => {
    const isElsewhere = last && !isIn(last.state, index) && !isIn(state, index);
    const view =
      last && isElsewhere && sameSources(last.state, state, index) ? last.view : rowView(state, index);
    last = { state, view };
    return view;
  };
}

const NOTHING: readonly (string | null)[] = [];

function typedFor(state: GridState, rowId: string | undefined): readonly (string | null)[] {
  if (!state.outbox.some((item) => item.kind === "enter" && item.rowId === rowId)) return NOTHING;
  return state.columns.map((column) => {
    if (column.kind !== "reading") return null;
    // The first reading of a dimension decides its objective.
    const first = state.outbox.find(
      (item) => item.kind === "enter" && item.rowId === rowId && item.cell.dimension === column.dimension,
    );
    return first?.kind === "enter" ? first.objectiveId : null;
  });
}

function sameText(a: CellText | null, b: CellText | null | undefined): boolean {
  return a === b || (a?.text === b?.text && a?.status === b?.status && a?.message === b?.message);
}

function sameList<T>(a: readonly T[], b: readonly T[], same: (a: T, b: T | undefined) => boolean): boolean {
  return a.length === b.length && a.every((one, at) => same(one, b[at]));
}

export function sameRowView(a: RowView, b: RowView): boolean {
  return (
    a.index === b.index &&
    a.rowId === b.rowId &&
    a.record === b.record &&
    a.active === b.active &&
    sameSpan(a.selected, b.selected) &&
    a.editing === b.editing &&
    a.remark === b.remark &&
    a.objectiveInUse === b.objectiveInUse &&
    a.proposed === b.proposed &&
    sameList(a.texts, b.texts, sameText) &&
    sameList(a.typedFor, b.typedFor, Object.is)
  );
}
