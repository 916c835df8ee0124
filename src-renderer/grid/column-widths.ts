import type { GridColumn } from "./grid-columns.ts";
import type { ColumnHead } from "./grid-model.ts";
import type { KeyFacts } from "./key-facts.ts";

/** Widths that a person has chosen, rem, by the key of the column; the rest have their usual ones. */
export type ColumnWidths = Readonly<Record<string, number>>;

export const LEAST_WIDTH = 2.5;
export const MOST_WIDTH = 40;
/** One press of a key, rem. */
export const WIDTH_STEP = 0.5;

/** The nearest width a column can have, to a tenth of a rem. */
export function possibleWidth(rem: number): number {
  return Math.round(Math.min(MOST_WIDTH, Math.max(LEAST_WIDTH, rem)) * 10) / 10;
}

export function widthOf(column: GridColumn, head: ColumnHead, widths: ColumnWidths): number {
  return widths[column.key] ?? head.width;
}

/** The columns as the style sheet lays them out: all rows share it, so that they stay in line. */
export interface ColumnLayout {
  readonly template: string;
  /** Sum of the widths, rem. */
  readonly total: number;
  /** The first two columns stay in sight when the others are scrolled, rem. */
  readonly first: number;
  readonly second: number;
}

/** The last column takes what is left over. */
export function columnLayout(
  columns: readonly GridColumn[],
  heads: readonly ColumnHead[],
  widths: ColumnWidths,
): ColumnLayout {
  const all = columns.map((column, at) => widthOf(column, heads[at] ?? NO_HEAD, widths));
  const template = all.map((width, at) =>
    at === all.length - 1 ? `minmax(${width}rem, 1fr)` : `${width}rem`,
  );
  return {
    template: template.join(" "),
    total: all.reduce((sum, width) => sum + width, 0),
    first: all[0] ?? 0,
    second: all[1] ?? 0,
  };
}

const NO_HEAD: ColumnHead = { title: "", spoken: "", width: LEAST_WIDTH };

/** By how much a key widens the column of the cursor, rem; 0: it is no such key. */
export function widthStepOf({ key, alt, shift, ctrl, meta }: KeyFacts): number {
  if (!alt || !shift || ctrl || meta) return 0;
  if (key === "ArrowRight") return WIDTH_STEP;
  return key === "ArrowLeft" ? -WIDTH_STEP : 0;
}
