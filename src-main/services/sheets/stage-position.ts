import type { StagePosition } from "#core/contract/records/sheet.ts";
import { readFinderSquare } from "#core/measurement/finder-square.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";

/**
 * A position as typed; one that says nothing is none.
 * @param field what the position is called in the input
 * @throws InputError of its part `x`, `y` or `square`
 */
export function readStage(field: string, stage: StagePosition | null): StagePosition | null {
  if (stage === null) return null;
  const square = stage.square?.trim() ?? "";
  if (square !== "") readFinderSquare(`${field}.square`, square);
  const read = (axis: "x" | "y"): string => {
    const typed = stage[axis].trim();
    if (typed !== "") readDecimal(`${field}.${axis}`, typed);
    return typed;
  };
  const kept = { x: read("x"), y: read("y"), ...(square === "" ? {} : { square }) };
  return kept.x === "" && kept.y === "" && square === "" ? null : kept;
}
