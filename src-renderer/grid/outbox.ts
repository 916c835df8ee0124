import type { Step } from "./grid-effect.ts";
import { step } from "./grid-effect.ts";
import type { FreshRow, GridState, Outgoing } from "./grid-state.ts";

/** Sends the head of the outbox unless something is under way. */
export function sendHead(state: GridState): Step {
  const head = state.outbox[0];
  if (!head || state.underWay !== null) return step(state);
  return step({ ...state, underWay: head.requestId }, { type: "send", item: head });
}

export function enqueue(state: GridState, item: Outgoing): Step {
  return sendHead({ ...state, outbox: [...state.outbox, item] });
}

/** Takes the head away when `requestId` is its answer; null when the answer is a late or foreign one. */
export function answered(state: GridState, requestId: string): { head: Outgoing; state: GridState } | null {
  const [head, ...outbox] = state.outbox;
  if (!head || head.requestId !== requestId) return null;
  return { head, state: { ...state, outbox, underWay: null, hostLost: false } };
}

/** True when a reading that creates this row is on its way. */
export function isBeingCreated(state: GridState, rowId: string): boolean {
  return state.outbox.some((item) => item.kind === "enter" && item.rowId === rowId);
}

function isBlank(state: GridState, row: FreshRow): boolean {
  const holds = (one: { readonly rowId: string }): boolean => one.rowId === row.id;
  return (
    row.label === "" &&
    row.note === "" &&
    row.stage === undefined &&
    !state.outbox.some((item) => "rowId" in item && holds(item)) &&
    ![...state.halfTyped.values()].some(holds) &&
    ![...state.refused.values()].some(holds)
  );
}

/** Sees to it that the last row of the grid is a blank one. */
export function withBlankRow(state: GridState, newId: () => string): GridState {
  if (state.given) return state;
  const last = state.fresh.at(-1);
  if (last && isBlank(state, last)) return state;
  return { ...state, fresh: [...state.fresh, { id: newId(), label: "", note: "" }] };
}
