import { readFinderSquare } from "#core/measurement/finder-square.ts";
import { readDecimal, whyNoNumber } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { cellTextAt, keptText, rowParts } from "./cell-text.ts";
import { cellOf, type GridColumn, isEditable } from "./grid-columns.ts";
import type { NewId, Step } from "./grid-effect.ts";
import { andThen, remark, step } from "./grid-effect.ts";
import type { Editing, FreshRow, GridState, RowText } from "./grid-state.ts";
import { activeCell, cellKey, objectiveInUse, recordAt } from "./grid-state.ts";
import { enqueue, isBeingCreated, withBlankRow } from "./outbox.ts";

/** Opens the editor with the cell's text, caret at the end. */
export function openEditor(state: GridState, mode: Editing["mode"]): GridState {
  const cell = activeCell(state);
  if (!cell) return remark(state, "This row is still being fetched.");
  if (!isEditable(cell.column)) return state;
  if (recordAt(state, state.cursor.row)?.struck) return saidStruck(state);
  const shown = cellTextAt(state, state.cursor.row, state.cursor.column);
  if (shown.text === "" && mode === "edit" && cell.column.kind === "reading")
    return remark(state, "Nothing is typed yet: type the reading, then Enter.", keyOf(cell));
  // Text that is not stored yet counts as typed, so that Enter takes it.
  const touched = shown.status === "refused" || shown.status === "half-typed";
  return { ...state, editing: { text: shown.text, mode, touched } };
}

/** Text of one pasted cell: it stands in the editor, to be taken with Enter or given up with Escape. */
export function pasteText(state: GridState, text: string): Step {
  const cell = activeCell(state);
  if (!cell) return step(remark(state, "This row is still being fetched: paste again in a moment."));
  if (!isEditable(cell.column)) {
    return step(remark(state, "This cell is computed: paste into a reading, a label or a note."));
  }
  if (recordAt(state, state.cursor.row)?.struck) return step(saidStruck(state));
  return typedText({ ...state, editing: { text: "", mode: "replace", touched: false } }, text);
}

export function saidStruck(state: GridState): GridState {
  return remark(state, `Row ${state.cursor.row + 1} is struck: it takes no more text.`);
}

const keyOf = (cell: { readonly rowId: string; readonly column: GridColumn }): string =>
  cellKey(cell.rowId, cell.column.key);

const MEND = "Backspace takes back a character, Escape the reading.";

/** The editor's text has changed. What cannot become a number is said at once, and kept as typed. */
export function typedText(state: GridState, text: string): Step {
  const cell = activeCell(state);
  if (!state.editing || !cell || state.editing.text === text) return step(state);
  const atCell = state.remark?.cell === keyOf(cell);
  const next: GridState = {
    ...state,
    editing: { ...state.editing, text, touched: true },
    remark: atCell ? null : state.remark,
  };
  if (cell.column.kind !== "reading") return step(next);
  const why = whyNoNumber(text);
  return step(why === null ? next : remark(next, `“${text}” ${why}. ${MEND}`, keyOf(cell)), {
    type: "keepDraft",
    rowId: cell.rowId,
    cell: cellOf(cell.column),
    typed: text,
    now: false,
  });
}

/** The state without half-typed and refused text of a cell. */
function cleared(state: GridState, key: string): GridState {
  const halfTyped = new Map(state.halfTyped);
  const refused = new Map(state.refused);
  halfTyped.delete(key);
  refused.delete(key);
  return { ...state, halfTyped, refused };
}

/** Closes the editor and gives up what was typed in it; what the cell held before is back. */
export function cancelEditor(state: GridState): Step {
  const cell = activeCell(state);
  if (!state.editing || !cell) return step({ ...state, remark: null });
  const next = { ...state, editing: null, remark: null };
  if (cell.column.kind !== "reading" || !state.editing.touched) return step(next);
  const key = keyOf(cell);
  const typed = state.halfTyped.get(key)?.text ?? state.refused.get(key)?.typed ?? "";
  return step(next, {
    type: "keepDraft",
    rowId: cell.rowId,
    cell: cellOf(cell.column),
    typed,
    now: true,
  });
}

/** Forgets refused or half-typed text of the cell under the cursor. */
export function forgetText(state: GridState): Step {
  const cell = activeCell(state);
  if (!cell || !isEditable(cell.column)) return step(state);
  const key = keyOf(cell);
  if (!state.refused.has(key) && !state.halfTyped.has(key)) {
    return step(
      remark(state, "What is stored is not erased: type over it, or strike the row with Delete.", key),
    );
  }
  const next = { ...cleared(state, key), remark: null };
  if (cell.column.kind !== "reading") return step(next);
  return step(next, {
    type: "keepDraft",
    rowId: cell.rowId,
    cell: cellOf(cell.column),
    typed: "",
    now: true,
  });
}

export interface Taken extends Step {
  /** False: the text was not taken, stands in the editor still, and a remark at the cell says why. */
  readonly taken: boolean;
}

/** Takes the editor's text: an empty, unreadable one stays in the editor with a remark. */
export function takeText(state: GridState, newId: NewId): Taken {
  const cell = activeCell(state);
  const editing = state.editing;
  if (!editing || !cell) return { ...step(state), taken: true };
  if (!editing.touched) return { ...step({ ...state, editing: null }), taken: editing.text !== "" };
  const why = whyNotTaken(cell.column, editing.text);
  if (why !== null) return { ...step(remark(state, why, keyOf(cell))), taken: false };
  if (cell.column.kind !== "reading") {
    const described = setText(state, cell, editing.text.trim(), newId);
    return { ...described, taken: true };
  }
  return { ...enter(state, { rowId: cell.rowId, column: cell.column }, editing.text, newId), taken: true };
}

/** Why a text is not what belongs there. A coordinate or a square may be left out. */
function whyNotTaken(column: GridColumn, text: string): string | null {
  const { kind } = column;
  if (kind !== "reading" && (kind !== "stage" || text.trim() === "")) return null;
  const isSquare = kind === "stage" && column.axis === "square";
  const what = kind === "reading" ? "reading" : isSquare ? "square" : "coordinate";
  try {
    if (isSquare) readFinderSquare(what, text);
    else readDecimal(what, text);
    return null;
  } catch (error) {
    if (error instanceof InputError) return `${isSquare ? "This" : `The ${what}`} ${error.reason}.`;
    throw error;
  }
}

function enter(
  state: GridState,
  cell: { readonly rowId: string; readonly column: Extract<GridColumn, { kind: "reading" }> },
  typed: string,
  newId: NewId,
): Step {
  const parts = rowParts(state, state.cursor.row);
  const reading = cellOf(cell.column);
  const creating = parts.fresh !== undefined && !isBeingCreated(state, cell.rowId);
  const next = { ...cleared(state, keyOf(cell)), editing: null, remark: null };
  const sent = enqueue(next, {
    kind: "enter",
    requestId: newId(),
    rowId: cell.rowId,
    cell: reading,
    typed,
    label: labelOf(state, state.cursor.row),
    objectiveId: objectiveInUse(state),
  });
  const dropped = andThen(
    step(sent.state, { type: "dropDraft", rowId: cell.rowId, cell: reading }),
    (after) => step(after, ...sent.effects),
  );
  const own = creating ? parts.fresh : undefined;
  const described =
    own && (own.note !== "" || own.stage)
      ? andThen(dropped, (after) =>
          enqueue(after, {
            kind: "describe",
            requestId: newId(),
            rowId: cell.rowId,
            label: labelOf(state, state.cursor.row),
            note: own.note,
            ...(own.stage ? { stage: own.stage } : {}),
            changed: own.note === "" ? "stage.x" : "note",
          }),
        )
      : dropped;
  return andThen(described, (after) => step(withBlankRow(after, newId)));
}

const LABEL: GridColumn = { kind: "label", key: "label" };
const NOTE: GridColumn = { kind: "note", key: "note" };

const STAGE_X: GridColumn = { kind: "stage", key: "stage.x", axis: "x" };
const STAGE_Y: GridColumn = { kind: "stage", key: "stage.y", axis: "y" };
const SQUARE: GridColumn = { kind: "stage", key: "stage.square", axis: "square" };

/** The label a row has or is about to have. */
export function labelOf(state: GridState, row: number): string {
  return keptText(state, row, LABEL);
}

/** What a row says of itself once one of its texts is changed; the stage only when that is it. */
function described(
  state: GridState,
  row: number,
  column: GridColumn,
  text: string,
): Pick<FreshRow, "label" | "note" | "stage"> & { readonly changed: RowText } {
  const of = (one: GridColumn): string => (one.key === column.key ? text : keptText(state, row, one));
  const about = { label: of(LABEL), note: of(NOTE) };
  if (column.kind === "stage") {
    const square = of(SQUARE);
    const stage = { x: of(STAGE_X), y: of(STAGE_Y), ...(square === "" ? {} : { square }) };
    return { ...about, stage, changed: column.key };
  }
  return { ...about, changed: column.kind === "label" ? "label" : "note" };
}

/** Sets the label, note or a coordinate of a row: at once when it is still this window's own, else by the service. */
function setText(
  state: GridState,
  cell: { readonly rowId: string; readonly column: GridColumn },
  text: string,
  newId: NewId,
): Step {
  const closed = { ...cleared(state, keyOf(cell)), editing: null, remark: null };
  const row = state.cursor.row;
  if (keptText(state, row, cell.column) === text) return step(closed);
  const next = cell.column.kind === "label" ? withLabel(closed, text) : closed;
  const { changed, ...about } = described(state, row, cell.column, text);
  const isOwn = rowParts(state, row).fresh !== undefined && !isBeingCreated(state, cell.rowId);
  if (isOwn) {
    const fresh = next.fresh.map((one) => (one.id === cell.rowId ? { ...one, ...about } : one));
    return step(withBlankRow({ ...next, fresh }, newId));
  }
  return enqueue(next, {
    kind: "describe",
    requestId: newId(),
    rowId: cell.rowId,
    ...about,
    changed,
  });
}

const MOST_LABELS = 2000;

/** Adds a label to those offered for completion. */
export function withLabel(state: GridState, label: string): GridState {
  if (label === "" || state.labels.length >= MOST_LABELS || state.labels.includes(label)) return state;
  return { ...state, labels: [...state.labels, label] };
}

/** Gives the row under the cursor the label of the row above. */
export function repeatLabel(state: GridState, newId: NewId): Step {
  const cell = activeCell(state);
  const { row } = state.cursor;
  if (!cell) return step(state);
  if (recordAt(state, row)?.struck) return step(saidStruck(state));
  const above = row > 0 ? labelOf(state, row - 1) : "";
  if (above === "") return step(remark(state, "There is no label above to repeat."));
  return setLabel(state, above, newId);
}

/** Gives the row under the cursor a label; a reading under way stays in its editor. */
export function setLabel(state: GridState, label: string, newId: NewId): Step {
  const cell = activeCell(state);
  if (!cell) return step(state);
  const labelled = setText(state, { rowId: cell.rowId, column: LABEL }, label, newId);
  return step({ ...labelled.state, editing: state.editing }, ...labelled.effects);
}
