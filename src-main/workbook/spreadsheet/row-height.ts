import type { Cell } from "./cell.ts";
import { LOOKS } from "./styles.ts";

/** Points of one line of text at 11 pt. */
const LINE_HEIGHT = 15;
/** The tallest row a spreadsheet allows, in points. */
const TALLEST = 405;

/** A cell that reaches over several columns. */
export interface Reach {
  readonly from: number;
  readonly to: number;
}

/** Lines of a text whose words move down whole; fewer characters fit where a wider font stands in. */
function linesIn(text: string, width: number): number {
  const usable = Math.max(4, Math.floor(0.85 * width) - 1);
  let lines = 0;
  for (const part of text.split("\n")) {
    let room = 0;
    for (const word of part.split(" ")) {
      if (room > word.length) room -= word.length + 1;
      else {
        lines += Math.max(1, Math.ceil(word.length / usable));
        room = usable - (word.length % usable);
      }
    }
  }
  return lines;
}

function wraps(cell: Cell): boolean {
  const look = LOOKS[cell.look];
  return "alignment" in look && "wrapText" in look.alignment;
}

/**
 * Height in points of a row whose wrapped texts need more than one line; null for a plain row. Written down, because
 * not every spreadsheet works it out when it opens a file.
 */
export function heightOf(
  cells: readonly Cell[],
  widths: readonly number[],
  reach: Reach | null,
): number | null {
  let lines = 1;
  cells.forEach((cell, index) => {
    if (typeof cell.value !== "string" || !wraps(cell)) return;
    const to = reach !== null && index + 1 === reach.from ? reach.to : index + 1;
    const width = widths.slice(index, to).reduce((sum, one) => sum + one, 0);
    lines = Math.max(lines, linesIn(cell.value, width));
  });
  return lines === 1 ? null : Math.min(TALLEST, lines * LINE_HEIGHT + 2);
}
