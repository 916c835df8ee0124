import type { Client } from "#core/contract/calls.ts";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { type RowParts, rowParts } from "../../../grid/cell-text.ts";
import { clipboardText, copiedCells } from "../../../grid/clipboard-text.ts";
import { type GridState, recordAt, rowCount } from "../../../grid/grid-state.ts";
import { type Rectangle, selectedRectangle } from "../../../grid/selection.ts";
import type { SheetContext } from "../sheet-context.ts";
import { copiedComputed, copiedHeadings } from "./copied-columns.ts";

/** Rows fetched at a time. */
const PORTION = 2000;

/** What a copy took, for the clipboard and in words. */
export interface Copied {
  readonly text: string;
  readonly words: string;
}

/** A copy before its rows are there. */
export interface CopyPlan {
  readonly state: GridState;
  readonly context: SheetContext;
  readonly rectangle: Rectangle;
  /** Whole columns go with their headings: a table whose numbers say what they are. */
  readonly headed: boolean;
  /** Sizes take two columns: the number and its U. */
  readonly apart: boolean;
}

/** The selection as it stands; without one the cell of the cursor. */
export function planCopy(state: GridState, context: SheetContext, apart: boolean): CopyPlan {
  const { row, column } = state.cursor;
  const one = { fromRow: row, toRow: row, fromColumn: column, toColumn: column };
  const kind = state.selection?.kind;
  return {
    state,
    context,
    rectangle: selectedRectangle(state) ?? one,
    headed: kind === "columns" || kind === "all",
    apart,
  };
}

/** True when every row of the plan is here already. */
export function isAllHere({ state, rectangle }: CopyPlan): boolean {
  for (let row = rectangle.fromRow; row <= Math.min(rectangle.toRow, state.total - 1); row += 1) {
    if (recordAt(state, row) === undefined) return false;
  }
  return true;
}

/** Fetches the stored rows of the plan that are not here. @returns by index; null when stopped or refused */
export async function fetchRows(
  { state, context, rectangle }: CopyPlan,
  client: Client,
  report: (done: number, all: number) => void,
  stop: AbortSignal,
): Promise<ReadonlyMap<number, SpecimenRow> | null> {
  const rows = new Map<number, SpecimenRow>();
  const { fromRow } = rectangle;
  const end = Math.min(rectangle.toRow + 1, state.total);
  const sheetId = context.sheet.id;
  for (let from = fromRow; from < end; from += PORTION) {
    report(from - fromRow, end - fromRow);
    const count = Math.min(PORTION, end - from);
    const reply = await client("rows.page", { sheetId, from: from + 1, count });
    if (!reply.ok || stop.aborted) return null;
    for (const row of reply.value.rows) rows.set(row.ordinal - 1, row);
  }
  return rows;
}

/**
 * The text of a copy. Of several rows the struck ones are left out, so that none is counted again elsewhere; the blank
 * row at the end is no row.
 */
export function copied(plan: CopyPlan, fetched: ReadonlyMap<number, SpecimenRow>): Copied {
  const { state, context, rectangle, headed, apart } = plan;
  const { fromRow, toRow, fromColumn, toColumn } = rectangle;
  const { definition } = context.method;
  const lines: (readonly string[])[] = [];
  if (headed) {
    const columns = state.columns.slice(fromColumn, toColumn + 1);
    lines.push(columns.flatMap((column) => copiedHeadings(column, definition, apart)));
  }
  let rows = 0;
  let struck = 0;
  for (let row = fromRow; row <= toRow; row += 1) {
    const record = fetched.get(row) ?? recordAt(state, row);
    const parts: RowParts = record ? { rowId: record.id, record, fresh: undefined } : rowParts(state, row);
    const isStruck = parts.record?.struck != null && toRow > fromRow;
    if (isStruck) struck += 1;
    else if (fromRow === toRow || row < rowCount(state) - 1) {
      rows += 1;
      lines.push(
        copiedCells(state, parts, row, rectangle, (stored, column) =>
          copiedComputed(stored, column, context, apart),
        ),
      );
    }
  }
  const columns = toColumn - fromColumn + 1;
  const what =
    rows === 1 && columns === 1
      ? "1 cell"
      : `${countedNoun(rows, "row")} × ${countedNoun(columns, "column")}`;
  const without = struck > 0 ? `, without ${struck} struck` : "";
  return {
    text: clipboardText(lines),
    words: `copied ${what}${headed ? " with headings" : ""}${without}`,
  };
}
