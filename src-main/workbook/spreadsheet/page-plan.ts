import type { Paper } from "#core/contract/records/exchange.ts";

/** Per cent: cells of 11 pt are then printed at 8.25 pt, the least that is read with ease on paper. */
export const LEAST_SCALE = 75;
const POINTS_PER_INCH = 72;
/** Inches at every edge; the foot takes up to four lines. */
export const MARGINS = { left: 0.5, right: 0.5, top: 0.6, bottom: 0.9, header: 0.3, footer: 0.3 } as const;
const PAPER_INCHES: Readonly<Record<Paper, { readonly short: number; readonly long: number }>> = {
  A4: { short: 8.27, long: 11.69 },
  Letter: { short: 8.5, long: 11 },
};
/** A machine without the font of the cells takes a wider one: its digits, and with them its columns, are 9 for 7 px. */
const OTHER_FONT = 9 / 7;

/** Points of a column as wide as so many characters of the standard font, at full size. */
export function pointsOf(characters: number): number {
  return 5.25 * characters + 3.75;
}

const sum = (widths: readonly number[]): number => widths.reduce((all, width) => all + pointsOf(width), 0);

/** How a worksheet lies on paper: all columns on one page, or groups of them on pages side by side. */
export type PagePlan =
  | { readonly kind: "one page wide" }
  | { readonly kind: "groups"; readonly breaks: readonly number[] };

export interface PageWish {
  /** Widths in characters, one per column that is printed. */
  readonly widths: readonly number[];
  /** So many first columns are repeated on every page. */
  readonly repeated: number;
  readonly paper: Paper;
  readonly landscape: boolean;
  /** Columns, from 1, that begin a page of their own when there are several and that makes no page more. */
  readonly begins?: readonly number[];
  /** Columns, from 1, that stay on the page of the one before them. */
  readonly follows?: readonly number[];
}

/** Where pages begin beside each other, so that nothing is printed smaller than `LEAST_SCALE` allows. */
export function pagePlan({ paper, landscape, begins = [], ...wish }: PageWish): PagePlan {
  const inches = PAPER_INCHES[paper][landscape ? "long" : "short"] - MARGINS.left - MARGINS.right;
  const room = (inches * POINTS_PER_INCH * 100) / LEAST_SCALE / OTHER_FONT;
  if (sum(wish.widths) <= room) return { kind: "one page wide" };
  const [apart, closed] = [begins, []].map((some) => breaksOf(wish, some, room));
  return { kind: "groups", breaks: apart && closed && apart.length > closed.length ? closed : (apart ?? []) };
}

/** The columns, from 1, behind which a page ends. */
function breaksOf(
  { widths, repeated, follows = [] }: Pick<PageWish, "widths" | "repeated" | "follows">,
  begins: readonly number[],
  room: number,
): readonly number[] {
  const heads = sum(widths.slice(0, repeated));
  const breaks: number[] = [];
  let used = heads;
  for (let column = repeated + 1; column <= widths.length; column += 1) {
    if (follows.includes(column)) continue;
    let block = pointsOf(widths[column - 1] ?? 0);
    for (let next = column + 1; follows.includes(next); next += 1) block += pointsOf(widths[next - 1] ?? 0);
    const isFirst = column === repeated + 1;
    if (!isFirst && (begins.includes(column) || used + block > room)) {
      // A break is named by the last column before it.
      breaks.push(column - 1);
      used = heads;
    }
    used += block;
  }
  return breaks;
}
