import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { guarded, unguarded } from "#core/measurement/formula-guard.ts";
import { cellsOfText, textOfCells } from "#core/measurement/tab-separated.ts";
import { isTypedNumber } from "#core/quantity/decimal-text.ts";
import { numberShown } from "../window/notation.ts";
import { cellText, type RowParts } from "./cell-text.ts";
import { type GridColumn, isEditable } from "./grid-columns.ts";
import type { GridState } from "./grid-state.ts";
import type { Rectangle } from "./selection.ts";

type Cells = readonly string[];

/**
 * Tab-separated text for the clipboard, a line to a row. A cell that holds a tab or a line end, or begins with a quote,
 * stands in double quotes, quotes in it doubled (RFC 4180, 2.6 and 2.7, with the tab for the comma). A cell that a
 * spreadsheet could take for a formula, such as the label `=1+1`, comes with an apostrophe before it, so that it is
 * pasted as text; readings stay as typed, negative ones too.
 */
export function clipboardText(lines: readonly Cells[]): string {
  return textOfCells(lines.map((cells) => cells.map((cell) => (isTypedNumber(cell) ? cell : guarded(cell)))));
}

/** Lines and cells of pasted text; the apostrophe that `clipboardText` puts before a formula is taken away again. */
export function pastedCells(text: string): readonly Cells[] {
  return cellsOfText(text).map((cells) => cells.map(unguarded));
}

/** The text of the one cell, when no more than one was pasted; a spreadsheet ends it with a line end. */
export function onlyCell(lines: readonly Cells[]): string | null {
  const [line] = lines;
  return lines.length === 1 && line?.length === 1 ? (line[0] ?? null) : null;
}

/** Texts of the computed cells of a row in one column; null: nothing is stored yet. */
export type ComputedTexts = (record: SpecimenRow | null, column: GridColumn) => readonly string[];

/** The cells of one row as they are copied: what was typed last, before what is stored. */
export function copiedCells(
  state: GridState,
  parts: RowParts,
  row: number,
  { fromColumn, toColumn }: Rectangle,
  computed: ComputedTexts,
): Cells {
  return state.columns.slice(fromColumn, toColumn + 1).flatMap((column) => {
    if (column.kind === "ordinal") return String(row + 1);
    if (column.kind === "reading" || column.kind === "stage")
      return numberShown(cellText(state, parts, column).text);
    if (isEditable(column)) return cellText(state, parts, column).text;
    return computed(parts.record ?? null, column).map(numberShown);
  });
}
