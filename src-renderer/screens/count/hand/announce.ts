import { categoryTone, type ToneName } from "../../../sound/tones.ts";
import { type CountingState, totalIn } from "../state/counting-state.ts";
import type { PadCommand } from "./counting-keys.ts";

/** What is heard after an act: a tone, and words where there is a voice. */
export interface Heard {
  readonly tone: ToneName;
  readonly words: string | null;
}

/** The mark a total has just passed; null when none lies between. */
export function markPassed(before: number, after: number, every: number): number | null {
  if (every <= 0) return null;
  const mark = Math.floor(after / every) * every;
  return mark > 0 && before < mark ? mark : null;
}

function ofPress(
  { category }: Extract<PadCommand, { kind: "press" }>,
  before: CountingState,
  after: CountingState,
  every: number,
): Heard {
  const place = after.count.categories.findIndex((one) => one.key === category.key);
  const { count } = after;
  const mark = markPassed(totalIn(before.sums, count), totalIn(after.sums, count), every);
  return { tone: categoryTone(Math.max(0, place)), words: mark === null ? null : String(mark) };
}

function ofUndo(before: CountingState): Heard {
  const top = before.undoStack?.top;
  if (!top) return { tone: "undone", words: "taken back" };
  if (top.kind === "field") return { tone: "undone", words: `back to field ${top.field - 1}` };
  const name = before.count.categories.find((one) => one.key === top.category)?.name ?? top.category;
  return { tone: "undone", words: `${name} taken back` };
}

/** What an act of the hand sounds like. */
export function heardAfter(
  command: Extract<PadCommand, { kind: "press" | "field" | "undo" }>,
  before: CountingState,
  after: CountingState,
  every: number,
): Heard {
  if (command.kind === "press") return ofPress(command, before, after, every);
  if (command.kind === "undo") return ofUndo(before);
  return { tone: "field", words: `field ${after.fields.length}` };
}
