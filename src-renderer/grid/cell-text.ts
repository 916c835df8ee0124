import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { readingAt } from "#core/measurement/readings.ts";
import type { GridColumn } from "./grid-columns.ts";
import { columnInRow, readingKey } from "./grid-columns.ts";
import type { FreshRow, GridState, Outgoing } from "./grid-state.ts";
import { cellKey, freshAt, recordAt, rowIdAt } from "./grid-state.ts";

export type CellStatus = "empty" | "stored" | "pending" | "refused" | "half-typed";

export interface CellText {
  readonly text: string;
  readonly status: CellStatus;
  /** Why the text was refused. */
  readonly message: string | null;
}

const EMPTY: CellText = { text: "", status: "empty", message: null };

/** What a stored record holds in an editable column; "" when nothing. */
function storedText(record: SpecimenRow | undefined, column: GridColumn): string {
  if (!record) return "";
  if (column.kind === "label") return record.label;
  if (column.kind === "note") return record.note;
  if (column.kind === "stage") return record.stage?.[column.axis] ?? "";
  if (column.kind !== "reading") return "";
  const measured = record.measurements.find((one) => one.dimension === column.dimension);
  return readingAt(measured, column) ?? "";
}

function freshText(fresh: FreshRow | undefined, column: GridColumn): string {
  if (column.kind === "label") return fresh?.label ?? "";
  if (column.kind === "stage") return fresh?.stage?.[column.axis] ?? "";
  return column.kind === "note" ? (fresh?.note ?? "") : "";
}

/** The text of an item on its way, if it concerns this cell. */
function outgoingText(item: Outgoing, rowId: string, column: GridColumn): string | undefined {
  if (item.kind === "enter" && item.rowId === rowId && column.kind === "reading") {
    return readingKey(item.cell) === column.key ? item.typed : undefined;
  }
  if (item.kind === "describe" && item.rowId === rowId) {
    if (column.kind === "label") return item.label;
    if (column.kind === "note") return item.note;
    if (column.kind === "stage") return item.stage && (item.stage[column.axis] ?? "");
  }
  return undefined;
}

export function pendingText(
  outbox: readonly Outgoing[],
  rowId: string,
  column: GridColumn,
): string | undefined {
  for (let at = outbox.length - 1; at >= 0; at -= 1) {
    const item = outbox[at];
    const text = item && outgoingText(item, rowId, column);
    if (text !== undefined) return text;
  }
  return undefined;
}

/** What belongs to one row of everything the grid holds; the parts a row on screen is drawn from. */
export interface RowParts {
  readonly rowId: string | undefined;
  readonly record: SpecimenRow | undefined;
  readonly fresh: FreshRow | undefined;
}

export function rowParts(state: GridState, index: number): RowParts {
  return { rowId: rowIdAt(state, index), record: recordAt(state, index), fresh: freshAt(state, index) };
}

/**
 * The text of a cell and how safe it is. What the person typed last comes first: half-typed, refused, on its way,
 * stored. The text in the open editor is not looked at: it is the editor's own.
 */
export function cellText(state: GridState, parts: RowParts, place: GridColumn): CellText {
  if (parts.rowId === undefined) return EMPTY;
  const column = columnInRow(place, parts.record, state.columns);
  const key = cellKey(parts.rowId, column.key);
  const half = state.halfTyped.get(key);
  if (half) return { text: half.text, status: "half-typed", message: null };
  const refused = state.refused.get(key);
  if (refused) return { text: refused.typed, status: "refused", message: refused.message };
  const pending = pendingText(state.outbox, parts.rowId, column);
  const stored = storedText(parts.record, column);
  if (pending !== undefined && pending !== stored) return { text: pending, status: "pending", message: null };
  if (stored !== "") return { text: stored, status: "stored", message: null };
  const fresh = freshText(parts.fresh, column);
  return fresh === "" ? EMPTY : { text: fresh, status: "stored", message: null };
}

/** What a label, note or coordinate of a row is or is about to be, whatever stands refused or half-typed over it. */
export function keptText(state: GridState, index: number, column: GridColumn): string {
  const { rowId, record, fresh } = rowParts(state, index);
  if (rowId === undefined) return "";
  return (
    pendingText(state.outbox, rowId, column) ??
    (record ? storedText(record, column) : freshText(fresh, column))
  );
}

export function cellTextAt(state: GridState, row: number, column: number): CellText {
  const found = state.columns[column];
  return found ? cellText(state, rowParts(state, row), found) : EMPTY;
}
