import type { NewId, Step } from "./grid-effect.ts";
import { andThen, remark, step } from "./grid-effect.ts";
import type { GridState } from "./grid-state.ts";
import { objectiveInUse } from "./grid-state.ts";
import { enqueue } from "./outbox.ts";

const positionsOf = (state: GridState): string =>
  state.objectives
    .map((one) => one.position)
    .sort((a, b) => a - b)
    .join(", ");

export function openTurret(state: GridState): GridState {
  return remark(
    { ...state, turret: "" },
    `Turret position? ${positionsOf(state)}. Or: - undo, + redo, * strike, . changer, 0 more. Escape leaves it.`,
  );
}

/** One more digit; a position that no further digit could change is chosen at once. */
export function typeTurret(state: GridState, digit: string, newId: NewId): Step {
  const typed = (state.turret ?? "") + digit;
  const possible = state.objectives.filter((one) => String(one.position).startsWith(typed));
  if (possible.length === 0) {
    return step(
      remark(state, `There is no objective in position ${typed}; there are ${positionsOf(state)}.`),
    );
  }
  const next = { ...state, turret: typed };
  return possible.length === 1 && String(possible[0]?.position) === typed
    ? chooseTurret(next, newId)
    : step(next);
}

export function chooseTurret(state: GridState, newId: NewId): Step {
  const chosen = state.objectives.find((one) => String(one.position) === state.turret);
  if (!chosen) return step(remark(state, `Type a turret position: ${positionsOf(state)}.`));
  const closed = { ...state, turret: null, remark: null };
  if (chosen.id === objectiveInUse(state)) return step(closed);
  // In the same queue as the readings: those typed before it are converted with the objective before.
  return andThen(step(closed), (after) =>
    enqueue(after, { kind: "objective", requestId: newId(), objectiveId: chosen.id }),
  );
}
