import type { CellValue } from "exceljs";
import { cellText } from "./cell-text.ts";
import { calendarDate, instantDate } from "./instant-cell.ts";
import type { LookName } from "./styles.ts";

/** `live`: formulas with their cached values; `values`: the same numbers without formulas, for a customer's copy. */
export type WorkbookKind = "live" | "values";

/**
 * What a cell may hold. Cells are made by the functions below and by nothing else, so that no text and no object from
 * outside ever becomes a formula, a link or rich text.
 */
export interface Cell {
  readonly value: string | number | Date | null;
  readonly formula: string | null;
  readonly look: LookName;
  /** True for a formula that works on whole columns at once; every spreadsheet then reads it as such. */
  readonly array?: boolean;
}

export const EMPTY: Cell = Object.freeze({ value: null, formula: null, look: "text" });

export function text(value: string, look: LookName = "text"): Cell {
  return { value: value === "" ? null : cellText(value), formula: null, look };
}

/** A number; empty when it is null. @throws RangeError when it is not finite */
export function number(value: number | string | null, look: LookName): Cell {
  if (value === null) return { value: null, formula: null, look };
  const double = Number(value);
  if (!Number.isFinite(double)) throw new RangeError(`A workbook cell cannot hold the number ${value}.`);
  return { value: double, formula: null, look };
}

/** A formula of ours (without the leading `=`) with the value computed here. @throws RangeError when not finite */
export function formula(expression: string, cached: number | string, look: LookName): Cell {
  return { ...number(cached, look), formula: expression };
}

/** A formula whose present result is text. */
export function textFormula(expression: string, cached: string, look: LookName): Cell {
  return { value: cached, formula: expression, look };
}

/** A formula that works on whole columns at once; empty text stands for no result. */
export function arrayFormula(expression: string, cached: number | null, look: LookName): Cell {
  return { value: cached ?? "", formula: expression, look, array: true };
}

export function instant(value: string | null, look: LookName = "instant"): Cell {
  return { value: value === null ? null : instantDate(value), formula: null, look };
}

export function date(value: string | null): Cell {
  return { value: value === null ? null : calendarDate(value), formula: null, look: "date" };
}

/** The cell at `address` as the writer takes it. */
export function writtenValue(cell: Cell, kind: WorkbookKind, address: () => string): CellValue {
  if (cell.formula === null || kind === "values") return cell.value === "" ? null : cell.value;
  const written = { formula: cell.formula, result: cell.value ?? 0 };
  return (cell.array ? { ...written, shareType: "array", ref: address() } : written) as CellValue;
}
