import type { ReadBook, ReadCell } from "./other-programs.ts";

/** Every formula of a workbook with its place, e.g. `Rows!K2`. */
export function formulasOf(book: ReadBook): [place: string, cell: ReadCell][] {
  return Object.entries(book.sheets).flatMap(([sheet, { cells }]) =>
    Object.entries(cells)
      .filter(([, cell]) => cell.type === "f")
      .map(([address, cell]): [string, ReadCell] => [`${sheet}!${address}`, cell]),
  );
}

function valueAt(book: ReadBook, place: string): unknown {
  const [sheet = "", address = ""] = place.split("!");
  return book.sheets[sheet]?.cells[address]?.value ?? null;
}

/** Far tighter than any printed digit: relative 1e-9, quantiles of the other program included. */
function agrees(ours: unknown, theirs: unknown): boolean {
  if (typeof ours === "number" && typeof theirs === "number") {
    return Math.abs(ours - theirs) <= 1e-9 * Math.max(Math.abs(ours), 1e-12);
  }
  return (ours ?? "") === (theirs ?? "");
}

/** The formulas whose cached value is not what another program computes, in words. */
export function disagreements(ours: ReadBook, theirs: ReadBook): string[] {
  return formulasOf(ours)
    .filter(([place, cell]) => !agrees(cell.value, valueAt(theirs, place)))
    .map(([place, cell]) => `${place} ${cell.content}: ${cell.value} / ${valueAt(theirs, place)}`);
}

/** Cells that hold an error value such as `#REF!`. */
export function errorsIn(book: ReadBook): string[] {
  return Object.entries(book.sheets).flatMap(([sheet, { cells }]) =>
    Object.entries(cells)
      .filter(([, cell]) => typeof cell.value === "string" && /^#[A-Z0-9/]+[!?]?$/.test(cell.value))
      .map(([address]) => `${sheet}!${address}`),
  );
}
