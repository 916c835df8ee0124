import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import type { ReplyAction } from "./grid-action.ts";
import { readingKey } from "./grid-columns.ts";
import type { NewId, Step } from "./grid-effect.ts";
import { andThen, remark, remarkUndoable, step } from "./grid-effect.ts";
import type { GridState, Outgoing, RefusedText } from "./grid-state.ts";
import { cellKey, indexOfRow } from "./grid-state.ts";
import { answered, sendHead, withBlankRow } from "./outbox.ts";
import { placeRows } from "./paging.ts";

type Reply<T extends ReplyAction["type"]> = Extract<ReplyAction, { type: T }>;

/** A row came back stored: its record replaces what was on its way. */
export function rowStored(state: GridState, { requestId, row }: Reply<"rowStored">, newId: NewId): Step {
  const done = answered(state, requestId);
  if (!done) return step(state);
  const placed = { ...placeRows(done.state, [row], row.ordinal), lastStored: row };
  const result = completedBy(done.head, row);
  const next = result === null ? placed : { ...placed, lastResult: { row, dimension: result } };
  return sendHead(withBlankRow(said(next, done.head, row), newId));
}

/** A strike is told with the way back; another act is the last one then, so that what was told before goes. */
function said(state: GridState, item: Outgoing, { ordinal }: SpecimenRow): GridState {
  if (item.kind === "strike") return remarkUndoable(state, `Row ${ordinal} struck.`);
  return state.remark?.undoable ? { ...state, remark: null } : state;
}

/** The dimension that this reading completed. */
function completedBy(item: Outgoing, row: SpecimenRow): string | null {
  if (item.kind !== "enter") return null;
  const { dimension } = item.cell;
  const measured = row.measurements.find((one) => one.dimension === dimension);
  return measured?.divisions == null ? null : dimension;
}

export function objectiveStored(state: GridState, { requestId, sheet }: Reply<"objectiveStored">): Step {
  const done = answered(state, requestId);
  return done ? sendHead({ ...done.state, objectiveId: sheet.objectiveId }) : step(state);
}

/** What was sent was refused: its text goes back to its cell with the reason. */
export function refused(state: GridState, reply: Reply<"refused">, newId: NewId): Step {
  const done = answered(state, reply.requestId);
  if (!done) return step(state);
  const back = andThen(giveBack(done.state, done.head, reply), (after) => step(withBlankRow(after, newId)));
  return andThen(back, sendHead);
}

function giveBack(state: GridState, item: Outgoing, { code, message }: Reply<"refused">): Step {
  if (item.kind === "objective") return objectiveRefused(state, item.objectiveId, message);
  if (item.kind === "undo" || item.kind === "redo") return step(remark(state, message));
  if (item.kind === "strike") return step(remark(state, `The row was not struck: ${message}`));
  if (item.kind === "enter") return readingRefused(state, item, message);
  if (code === "row.unknown" && state.fresh.some((row) => row.id === item.rowId)) {
    // Its first reading was refused, so the row is this window's own again and keeps what it was called.
    const own = {
      label: item.label,
      note: item.note,
      ...(item.stage === undefined ? {} : { stage: item.stage }),
    };
    return step({
      ...state,
      fresh: state.fresh.map((row) => (row.id === item.rowId ? { ...row, ...own } : row)),
    });
  }
  const typed = describedText(item);
  const superseded = state.outbox.some(
    (one) => one.kind === "describe" && one.rowId === item.rowId && one.changed === item.changed,
  );
  if (superseded) return step(state);
  return step(withRefused(state, { rowId: item.rowId, columnKey: item.changed, typed, message }));
}

const AXIS = { "stage.x": "x", "stage.y": "y", "stage.square": "square" } as const;

function describedText(item: Extract<Outgoing, { kind: "describe" }>): string {
  if (item.changed === "label") return item.label;
  if (item.changed === "note") return item.note;
  return item.stage?.[AXIS[item.changed]] ?? "";
}

function readingRefused(state: GridState, item: Extract<Outgoing, { kind: "enter" }>, message: string): Step {
  const columnKey = readingKey(item.cell);
  const superseded = state.outbox.some(
    (one) => one.kind === "enter" && one.rowId === item.rowId && readingKey(one.cell) === columnKey,
  );
  // Typed over meanwhile: the later text is on its way in its place.
  if (superseded) return step(state);
  return step(withRefused(state, { rowId: item.rowId, columnKey, typed: item.typed, message }), {
    type: "keepDraft",
    rowId: item.rowId,
    cell: item.cell,
    typed: item.typed,
    now: true,
  });
}

function withRefused(state: GridState, text: RefusedText): GridState {
  const map = new Map(state.refused).set(cellKey(text.rowId, text.columnKey), text);
  const row = indexOfRow(state, text.rowId);
  const where = row < 0 ? "" : `Row ${row + 1}: `;
  return remark(
    { ...state, refused: map },
    `${where}“${text.typed}” was not taken. ${text.message} F3 goes there.`,
  );
}

/** Readings typed for an objective that was refused must not be converted with the one before: they come back too. */
function objectiveRefused(state: GridState, objectiveId: string, message: string): Step {
  const until = state.outbox.findIndex((item) => item.kind === "objective");
  const end = until < 0 ? state.outbox.length : until;
  const isHeld = (item: Outgoing, at: number): boolean =>
    at < end && item.kind === "enter" && item.objectiveId === objectiveId;
  const held = state.outbox.filter(isHeld);
  const rest = { ...state, outbox: state.outbox.filter((item, at) => !isHeld(item, at)) };
  const back = held.reduce<Step>(
    (done, item) =>
      item.kind === "enter"
        ? andThen(done, (after) =>
            readingRefused(after, item, "It was typed for an objective that could not be chosen."),
          )
        : done,
    step(rest),
  );
  return andThen(back, (after) => step(remark(after, `The objective was not changed: ${message}`)));
}

export function hostLost(state: GridState, { requestId }: Reply<"lost">): Step {
  if (state.underWay !== requestId) return step(state);
  return step({ ...state, underWay: null, hostLost: true }, { type: "retryLater" });
}
