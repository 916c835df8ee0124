import { cellTextAt } from "./cell-text.ts";
import { changedElsewhere } from "./changed-elsewhere.ts";
import { rowsChanged } from "./changed-rows.ts";
import type { GridAction, Onward } from "./grid-action.ts";
import { type GridColumn, isInLoop } from "./grid-columns.ts";
import type { NewId, RowsToStrike, Step } from "./grid-effect.ts";
import { andThen, remark, remarkUndoable, step } from "./grid-effect.ts";
import type { GridState } from "./grid-state.ts";
import { columnAt, firstReading, PAGE_ROWS, recordAt } from "./grid-state.ts";
import { NUMLOCK_OFF } from "./key-facts.ts";
import { nextSpecimen } from "./label-numbering.ts";
import {
  leaveCell,
  moveCursor,
  placeCursor,
  previousReading,
  toEditable,
  toNextReading,
  toNextRefused,
  toNextSpecimen,
  toOpenReading,
} from "./moving.ts";
import { enqueue, sendHead } from "./outbox.ts";
import { draftsArrived, lookAt, pageArrived } from "./paging.ts";
import { hostLost, objectiveStored, refused, rowStored } from "./replies.ts";
import {
  extendSelection,
  extendSelectionTo,
  selectedRectangle,
  selectWhole,
  withLivingSelection,
  withoutSelection,
} from "./selection.ts";
import { takenBack } from "./take-back.ts";
import { chooseTurret, openTurret, typeTurret } from "./turret.ts";
import {
  cancelEditor,
  forgetText,
  openEditor,
  pasteText,
  repeatLabel,
  saidStruck,
  takeText,
  typedText,
} from "./typing.ts";

type Steps = {
  readonly [T in GridAction["type"]]: (
    state: GridState,
    action: Extract<GridAction, { type: T }>,
    newId: NewId,
  ) => Step;
};

/** Takes the open editor's text and, when it was taken, goes on. */
function taking(state: GridState, newId: NewId, next: (state: GridState) => Step): Step {
  const { taken, ...done } = takeText(state, newId);
  return taken ? andThen(done, next) : done;
}

function after(onward: Onward, newId: NewId): (state: GridState) => Step {
  const steps: Readonly<Record<Onward, (state: GridState) => GridState>> = {
    next: (state) =>
      isInLoop(columnAt(state, state.cursor.column))
        ? toNextReading(state, newId)
        : toOpenReading(state, newId),
    stay: (state) => state,
    tab: (state) => toEditable(state, true),
    backTab: (state) => toEditable(state, false),
    specimen: (state) => toNextSpecimen(state, newId),
    turret: openTurret,
  };
  return (state) => step(steps[onward](state));
}

function stepBack(state: GridState): Step {
  return andThen(leaveCell(state), (left) => {
    const before = previousReading(left);
    if (!before) return step(remark(left, "This is the first reading of the sheet."));
    return step(openEditor(placeCursor(left, before.row, before.column), "replace"));
  });
}

/** To the label or note of the row, editor open and empty for a label, with its text for a note. */
function goTo(state: GridState, place: GridColumn["kind"]): Step {
  return andThen(leaveCell(state), (left) => {
    const column = left.columns.findIndex((one) => one.kind === place);
    const there = placeCursor(left, left.cursor.row, column);
    if (recordAt(there, there.cursor.row)?.struck) return step(saidStruck(there));
    if (place === "label") return step({ ...there, editing: { text: "", mode: "replace", touched: false } });
    return step(openEditor(there, "edit"));
  });
}

/** The selected rows, where there are several and something of them is stored; null: that of the cursor is meant. */
function selectedToStrike(state: GridState): RowsToStrike | null {
  const selected = selectedRectangle(state);
  if (selected === null || selected.fromRow === selected.toRow) return null;
  const to = Math.min(selected.toRow, state.total - 1);
  return selected.fromRow < to ? { rowId: null, from: selected.fromRow + 1, to: to + 1 } : null;
}

function askStrike(state: GridState): Step {
  const rows = selectedToStrike(state);
  if (rows) return step(state, { type: "askStrike", rows });
  const row = recordAt(state, state.cursor.row);
  if (!row)
    return step(remark(state, "Only a stored row can be struck; Backspace forgets text that is not."));
  if (row.struck) return step(remark(state, `Row ${row.ordinal} is struck already: ${row.struck.reason}`));
  const one = { rowId: row.id, from: row.ordinal, to: row.ordinal };
  return step(state, { type: "askStrike", rows: one });
}

function showColumns(state: GridState, columns: readonly GridColumn[]): Step {
  return andThen(leaveCell(state), (left) => {
    const key = columnAt(left, left.cursor.column)?.key;
    const same = columns.findIndex((one) => one.key === key);
    const column = same >= 0 ? same : Math.max(0, firstReading(columns));
    return step({ ...left, columns, cursor: { ...left.cursor, column } });
  });
}

function isEmptyCoordinate(state: GridState): boolean {
  const { row, column } = state.cursor;
  return columnAt(state, column)?.kind === "stage" && cellTextAt(state, row, column).status === "empty";
}

const steps: Steps = {
  move: (state, { by }, newId) =>
    taking(state, newId, (taken) => step(moveCursor(withoutSelection(taken), by))),
  focusCell: (state, { row, column }) =>
    row === state.cursor.row && column === state.cursor.column
      ? step(withoutSelection(state))
      : andThen(leaveCell(state), (left) => step(placeCursor(left, row, column))),
  extend: (state, { by }) => step(extendSelection(state, by)),
  extendTo: (state, { row, column }) =>
    andThen(leaveCell(state), (left) => step(extendSelectionTo(left, row, column))),
  select: (state, { what }) => step(selectWhole(state, what)),
  open: (state, { byEnter }, newId) =>
    byEnter && isEmptyCoordinate(state) ? step(toNextReading(state, newId)) : step(openEditor(state, "edit")),
  typeOver: (state) => step({ ...state, editing: { text: "", mode: "replace", touched: false } }),
  switchMode: (state) =>
    step(
      state.editing
        ? {
            ...state,
            editing: { ...state.editing, mode: state.editing.mode === "edit" ? "replace" : "edit" },
          }
        : state,
    ),
  take: (state, { onward }, newId) => taking(state, newId, after(onward, newId)),
  cancel: (state) => cancelEditor(withoutSelection(state)),
  forget: forgetText,
  goTo: (state, { place }) => goTo(state, place),
  nextRefused: (state) => andThen(leaveCell(state), (left) => step(toNextRefused(left))),
  nextSpecimen: (state, _action, newId) => nextSpecimen(state, newId),
  stepBack,
  repeatLabel: (state, _action, newId) => repeatLabel(state, newId),
  turretOpen: (state) => step(openTurret(state)),
  turretDigit: (state, { digit }, newId) => typeTurret(state, digit, newId),
  turretBack: (state) => step({ ...state, turret: (state.turret ?? "").slice(0, -1) }),
  turretChoose: (state, _action, newId) => chooseTurret(state, newId),
  turretCancel: (state) => step({ ...state, turret: null, remark: null }),
  turretOther: (state) => step(openTurret({ ...state, turret: state.turret ?? "" })),
  askStrike,
  undo: (state, _action, newId) => enqueue(state, { kind: "undo", requestId: newId() }),
  redo: (state, _action, newId) => enqueue(state, { kind: "redo", requestId: newId() }),
  waiting: (state) => step(remark(state, "This row is still being fetched: type again in a moment.")),
  say: (state, { text, done = false }) => step(remark(state, text, null, done)),
  struck: (state) => step(saidStruck(state)),
  numLockOff: (state) => step(remark(state, NUMLOCK_OFF)),

  typed: (state, { text }) => typedText(state, text),
  pasteText: (state, { text }) => pasteText(state, text),
  blurred: leaveCell,
  columns: (state, { columns }) => showColumns(state, columns),
  turretIs: (state, { objectives }) => step({ ...state, objectives }),
  viewport: (state, { first, last, step: pageStep }) => lookAt(state, first, last, pageStep),
  strike: (state, { rowId, reason }, newId) =>
    enqueue(state, { kind: "strike", requestId: newId(), rowId, reason }),

  pageArrived: (state, action, newId) => step(pageArrived(state, action, newId)),
  pageFailed: (state, { page }) => step({ ...state, hostLost: true }, { type: "load", page, later: true }),
  draftsArrived: (state, { drafts }, newId) => step(draftsArrived(state, drafts, newId)),
  rowStored,
  objectiveStored,
  takenBack,
  rowsChanged: (state, { changed, words }, newId) =>
    changed.count === 0
      ? rowsChanged(state, changed, words, newId)
      : rowsChanged(state, changed, words, newId, remarkUndoable),
  changedElsewhere,
  refused,
  lost: hostLost,
  retry: sendHead,
};

/**
 * The grid's one way of changing. Pure but for `newId`, which supplies identifiers. Text that was typed is never
 * dropped: it is in the editor, half-typed, on its way, refused or stored until the person types over it or gives it up.
 */
export function reduceGrid(state: GridState, action: GridAction, newId: NewId): Step {
  const run = steps[action.type] as (state: GridState, action: GridAction, newId: NewId) => Step;
  const done = run(state, action, newId);
  const living = withLivingSelection(done.state);
  return living === done.state ? done : { ...done, state: living };
}

/** First ordinal of a page, from 1. */
export function firstOrdinal(page: number): number {
  return page * PAGE_ROWS + 1;
}
