import type { Placing } from "#core/practice/view/scene.ts";

/** How far one key moves the image, mm on the reticle: a seventh of a division. */
const STEP_MM = 0.014;
const FAR = 10;

type Move = (placing: Placing, stepUm: number) => Placing;

const slide =
  (x: number, y: number): Move =>
  (placing, step) => ({ ...placing, xUm: placing.xUm + x * step, yUm: placing.yUm + y * step });
const turn =
  (by: number): Move =>
  (placing) => ({ ...placing, turnedDeg: Math.round((placing.turnedDeg + by) * 10) / 10 });
const focus =
  (by: number): Move =>
  (placing, step) => ({ ...placing, outOfFocusUm: placing.outOfFocusUm + by * step });

/** By the arrows and the keys beside them, and by the digits of the keypad, as they lie under the hand. */
const MOVE_OF_KEY: Readonly<Record<string, Move>> = {
  ArrowLeft: slide(-1, 0),
  "4": slide(-1, 0),
  ArrowRight: slide(1, 0),
  "6": slide(1, 0),
  ArrowUp: slide(0, 1),
  "8": slide(0, 1),
  ArrowDown: slide(0, -1),
  "2": slide(0, -1),
  Home: turn(0.1),
  "7": turn(0.1),
  End: turn(-0.1),
  "1": turn(-0.1),
  PageUp: focus(1),
  "9": focus(1),
  PageDown: focus(-1),
  "3": focus(-1),
};

/** What each key does, for the list beside the view. */
export const SLIDE_KEYS = [
  ["← → ↑ ↓ or 4 6 8 2", "move the slide (Shift: ten times as far)"],
  ["Home End or 7 1", "turn the slide"],
  ["PageUp PageDown or 9 3", "focus"],
] as const;

/** Where the slide lies after a key; null: not a key of the slide. */
export function movedByKey(
  { key, shiftKey }: { readonly key: string; readonly shiftKey: boolean },
  objective: number,
): ((placing: Placing) => Placing) | null {
  const move = MOVE_OF_KEY[key];
  const step = ((shiftKey ? FAR : 1) * STEP_MM * 1000) / objective;
  return move ? (placing) => move(placing, step) : null;
}
