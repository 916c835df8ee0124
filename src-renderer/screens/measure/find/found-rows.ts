import type { SeenRow } from "../sheet-summary.ts";

export const ROW_FILTERS = ["all", "flagged", "unfinished"] as const;
export type RowFilter = (typeof ROW_FILTERS)[number];

export const ROW_ORDERS = ["entry", "label"] as const;
export type RowOrder = (typeof ROW_ORDERS)[number];

/** Rows in the order in which they are to be read; what the sheet holds keeps the order of entry. */
export function inOrder(rows: readonly SeenRow[], order: RowOrder): readonly SeenRow[] {
  if (order === "entry") return rows;
  const words = new Intl.Collator("en", { numeric: true, sensitivity: "base" });
  return rows.toSorted((a, b) => words.compare(a.label, b.label) || a.ordinal - b.ordinal);
}

/**
 * The rows that a search finds. A number is the row's own number first, then every label that holds it; other text is looked
 * for in the labels, whatever its case.
 */
export function findRows(rows: Iterable<SeenRow>, typed: string, filter: RowFilter): readonly SeenRow[] {
  const text = typed.trim().toLowerCase();
  const number = /^\d+$/.test(text) ? Number(text) : null;
  const kept = [...rows].filter(
    (row) =>
      (filter === "all" || (filter === "flagged" ? row.flags.length > 0 : row.isUnfinished)) &&
      (text === "" || row.ordinal === number || row.label.toLowerCase().includes(text)),
  );
  const own = kept.findIndex(({ ordinal }) => ordinal === number);
  const first = kept[own];
  return first ? [first, ...kept.filter((row) => row !== first)] : kept;
}

/** The next flagged row after one, round the end; null when none is. */
export function nextFlagged(rows: Iterable<SeenRow>, after: number): SeenRow | null {
  let first: SeenRow | null = null;
  for (const row of rows) {
    if (row.flags.length === 0) continue;
    if (row.ordinal > after) return row;
    first ??= row;
  }
  return first;
}
