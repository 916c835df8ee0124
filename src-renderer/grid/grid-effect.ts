import type { ReadingCell } from "#core/contract/records/sheet.ts";
import type { LiveStep } from "../live/live-store.ts";
import type { GridState, Outgoing } from "./grid-state.ts";

/** What the store has to do for the reducer. */
export type GridEffect =
  | { readonly type: "send"; readonly item: Outgoing }
  | { readonly type: "retryLater" }
  | { readonly type: "load"; readonly page: number; readonly later: boolean }
  /** Empty text forgets the draft. */
  | {
      readonly type: "keepDraft";
      readonly rowId: string;
      readonly cell: ReadingCell;
      readonly typed: string;
      /** True: at once; false: when typing pauses. */
      readonly now: boolean;
    }
  /** The text of this cell is being sent: a draft of it must not be kept any more. */
  | { readonly type: "dropDraft"; readonly rowId: string; readonly cell: ReadingCell }
  | { readonly type: "askStrike"; readonly rows: RowsToStrike };

/** Stored rows by ordinal, both ends included; `rowId` where it is one. */
export interface RowsToStrike {
  readonly rowId: string | null;
  readonly from: number;
  readonly to: number;
}

export type Step = LiveStep<GridState, GridEffect>;

/** Supplies an identifier for one act or row. */
export type NewId = () => string;

export function step(state: GridState, ...effects: readonly GridEffect[]): Step {
  return { state, effects };
}

/** Runs `next` on what `first` led to and keeps the effects of both, in order. */
export function andThen(first: Step, next: (state: GridState) => Step): Step {
  const second = next(first.state);
  return { state: second.state, effects: [...first.effects, ...second.effects] };
}

/** Says what was done to rows, with the way to take it back beside it. */
export function remarkUndoable(state: GridState, text: string): GridState {
  const said = remark(state, text, null, true);
  return said.remark === null ? said : { ...said, remark: { ...said.remark, undoable: true } };
}

/** Says something, at a cell or in general; `spoken` is told by voice. */
export function remark(
  state: GridState,
  text: string,
  cell: string | null = null,
  done = false,
  spoken?: string,
): GridState {
  const serial = (state.remark?.serial ?? 0) + 1;
  return {
    ...state,
    remark: { text, cell, serial, done, ...(spoken === undefined ? {} : { spoken }) },
  };
}
