import type { Count, CountingAct, CountingEcho, CountState } from "#core/contract/records/count.ts";
import { thousandthsOf } from "#core/counting/inputs/counting-unit.ts";
import {
  addToField,
  type CountingState,
  EMPTY_FIELD,
  type LiveField,
  openedCount,
  type UndoEntry,
} from "./counting-state.ts";

/** The most acts sent together; the contract takes no more. */
const MOST_TOGETHER = 500;

export type CountingAction =
  | { readonly type: "act"; readonly act: CountingAct; readonly madeAt: number }
  /** The outbox's first `count` acts have been sent. */
  | { readonly type: "sent"; readonly count: number }
  | { readonly type: "stored"; readonly echoes: readonly CountingEcho[] }
  | { readonly type: "lost" }
  /** Several together were refused: they go again one by one. */
  | { readonly type: "split" }
  /** The host's state replaces what is shown, under what waits but for its first `skipped`; `words`: why. */
  | {
      readonly type: "rebased";
      readonly state: CountState;
      readonly skipped: number;
      readonly words: string | null;
    }
  /** The count's record changed by another act than a press. */
  | { readonly type: "count"; readonly count: Count }
  | { readonly type: "remark"; readonly text: string; readonly kind: "note" | "care" };

function remarked(state: CountingState, text: string, kind: "note" | "care"): CountingState {
  return { ...state, remark: { serial: (state.remark?.serial ?? 0) + 1, text, kind } };
}

function withPress(
  state: CountingState,
  field: number,
  category: string,
  thousandths: number,
): CountingState {
  const by = { thousandths, presses: thousandths > 0 ? 1 : -1 };
  const at = field - 1;
  const before: LiveField = state.fields[at] ?? EMPTY_FIELD;
  return {
    ...state,
    fields: state.fields.with(at, addToField(before, category, by)),
    sums: addToField(state.sums, category, by),
  };
}

function standsOn(state: CountingState, act: UndoEntry): CountingState {
  return { ...state, undoStack: { top: act, below: state.undoStack } };
}

function takenBack(state: CountingState, struck: UndoEntry): CountingState {
  if (struck.kind === "field") return { ...state, fields: state.fields.slice(0, -1) };
  return withPress(state, struck.field, struck.category, -struck.thousandths);
}

/** What an act does to the counts at once, before the host has answered. */
function applied(state: CountingState, act: CountingAct): CountingState {
  const field = state.fields.length;
  switch (act.kind) {
    case "press": {
      const thousandths = thousandthsOf(act.weight);
      const pressed = withPress(state, field, act.category, thousandths);
      const { category } = act;
      return {
        ...standsOn(pressed, { kind: "press", field, category, thousandths }),
        lastPress: { category, thousandths },
      };
    }
    case "field": {
      const next = { ...state, fields: [...state.fields, EMPTY_FIELD], lastPress: null };
      return standsOn(next, { kind: "field", field: field + 1 });
    }
    case "undo": {
      if (!state.undoStack) return { ...state, unknownUndos: state.unknownUndos + 1, lastPress: null };
      const { top, below } = state.undoStack;
      return { ...takenBack(state, top), undoStack: below, lastPress: null };
    }
  }
}

/**
 * An undo that this window could not show is told by the host. Presses made after it lie in the field in hand then as
 * now: only an undone field moves them, and then the host's whole state is fetched instead (see `needsFetch`).
 */
function withEcho(state: CountingState, { struck }: CountingEcho): CountingState {
  if (state.unknownUndos === 0 || !struck) return state;
  const known = { ...state, unknownUndos: state.unknownUndos - 1 };
  if (struck.kind !== "press" || struck.category === null || struck.weight === null) return known;
  return withPress(known, struck.field, struck.category, -thousandthsOf(struck.weight));
}

/** True when the host took back a field that this window did not know: the counts here can't follow. */
export function needsFetch(state: CountingState, echoes: readonly CountingEcho[]): boolean {
  return state.unknownUndos > 0 && echoes.some(({ struck }) => struck?.kind === "field");
}

function stored(state: CountingState, echoes: readonly CountingEcho[]): CountingState {
  const rest = state.outbox.slice(echoes.length);
  const last = echoes.at(-1);
  const next: CountingState = {
    ...state,
    outbox: rest,
    underWay: 0,
    singly: state.singly && rest.length > 0,
    hostLost: false,
    storedUpTo: last?.event.sequence ?? state.storedUpTo,
  };
  return echoes.reduce((so, echo) => (echo.event.kind === "undo" ? withEcho(so, echo) : so), next);
}

/** The host's state with everything that still waits on top. */
function rebased(state: CountingState, from: CountState, skipped: number): CountingState {
  const { outbox, remark } = state;
  const rest = outbox.slice(skipped);
  const base = { ...openedCount(from), remark };
  const shown = rest.reduce((so, { act }) => applied(so, act), base);
  return { ...shown, outbox: rest, singly: state.singly && rest.length > 0 };
}

/** How many acts may go out now: none while some are under way. */
export function readyToSend(state: CountingState): number {
  if (state.underWay > 0 || state.hostLost) return 0;
  return Math.min(state.outbox.length, state.singly ? 1 : MOST_TOGETHER);
}

/** Everything that can happen to a count on the screen. Pure; costs the same whatever was counted before. */
export function reduceCounting(state: CountingState, action: CountingAction): CountingState {
  switch (action.type) {
    case "act": {
      const { act, madeAt } = action;
      return { ...applied(state, act), outbox: [...state.outbox, { act, madeAt }], remark: null };
    }
    case "sent":
      return { ...state, underWay: action.count, hostLost: false };
    case "stored":
      return stored(state, action.echoes);
    case "lost":
      return { ...state, underWay: 0, hostLost: true };
    case "split":
      return { ...state, underWay: 0, singly: true };
    case "rebased": {
      const next = rebased(state, action.state, action.skipped);
      return action.words === null ? next : remarked(next, action.words, "care");
    }
    case "count":
      return { ...state, count: action.count, storedUpTo: action.count.lastSequence };
    case "remark":
      return remarked(state, action.text, action.kind);
  }
}
