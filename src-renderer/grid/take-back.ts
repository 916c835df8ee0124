import { rowsChanged } from "./changed-rows.ts";
import type { ReplyAction } from "./grid-action.ts";
import type { NewId, Step } from "./grid-effect.ts";
import { andThen, step } from "./grid-effect.ts";
import type { GridState } from "./grid-state.ts";
import { answered, sendHead } from "./outbox.ts";

/** An undo or redo came back: the rows show what it left, and the words say what it did. */
export function takenBack(
  state: GridState,
  { requestId, undone }: Extract<ReplyAction, { type: "takenBack" }>,
  newId: NewId,
): Step {
  const done = answered(state, requestId);
  if (!done) return step(state);
  const said = done.head.kind === "redo" ? "Done again" : "Taken back";
  const shown = rowsChanged(done.state, undone.changed, `${said}: ${undone.words}`, newId);
  return andThen(shown, sendHead);
}
