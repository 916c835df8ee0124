import type { Writable } from "node:stream";
import { setImmediate } from "node:timers/promises";
import type ExcelJS from "exceljs";
import { type Cell, EMPTY, type WorkbookKind, writtenValue } from "./cell.ts";
import { heightOf, type Reach } from "./row-height.ts";
import { LOOKS } from "./styles.ts";

/** After this many rows the writer lets the program breathe and waits for the packer to catch up. */
const ROWS_PER_BREATH = 50;
const A4 = 9;

export interface SheetPlan {
  readonly name: string;
  /** Widths in characters, one per column. */
  readonly widths: readonly number[];
  /** Rows and columns that stay in place when scrolling. */
  readonly frozenRows: number;
  readonly frozenColumns: number;
  /** Rows repeated on every printed page, e.g. `1:1`; null for none. */
  readonly titleRows: string | null;
  readonly titleColumns?: string;
  readonly landscape: boolean;
  /** How many pages wide the print may be. */
  readonly pagesWide: number;
  /** Printed at the foot of every page, left. */
  readonly footer: string;
  readonly programLine: string;
}

/** One worksheet being streamed: rows go in order and cannot be changed afterwards. */
export interface SheetWriter {
  readonly name: string;
  /** Number the next row will have. */
  readonly nextRow: number;
  row(cells: readonly Cell[]): void;
  /** A row whose cell in column `from` reaches over the columns up to `to`; cells under it must be empty. */
  spread(cells: readonly Cell[], from: number, to: number): void;
  /** As `row`, giving the packer time; for worksheets with many rows. */
  longRow(cells: readonly Cell[]): Promise<void>;
  skip(): void;
  /** Gives a cell of this worksheet a name that formulas of every worksheet can use. */
  nameCell(row: number, column: number, name: string): void;
  finish(): Promise<void>;
}

/** `A`, `B` … `AA` for 1, 2 … 27. */
export function columnLetters(column: number): string {
  let letters = "";
  for (let rest = column; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters;
  }
  return letters;
}

/** Codes in headers and footers begin with `&`, and together they may have 255 characters. */
function footerText(text: string): string {
  const escaped = text.replaceAll("&", "&&");
  return escaped.length > 150 ? `${escaped.slice(0, 149).replace(/&$/, "")}…` : escaped;
}

function viewOf(plan: SheetPlan): Partial<ExcelJS.WorksheetView>[] {
  if (plan.frozenRows === 0 && plan.frozenColumns === 0) return [{ showGridLines: false }];
  return [{ state: "frozen", xSplit: plan.frozenColumns, ySplit: plan.frozenRows, showGridLines: false }];
}

/** Parts of exceljs's streaming worksheet that its types leave out. */
interface StreamedWorksheet {
  /** Every formula ever written, kept for shared formulas, which are not used here. */
  _formulae: Record<string, unknown>;
  /** What is being packed; the writer itself knows no backpressure. The packer's streams are of an older make. */
  readonly stream?: {
    readonly pipes?: readonly (Writable & { readonly _writableState?: { readonly needDrain?: boolean } })[];
  };
}

/** Gives the program a turn, waits for the packer, and drops what the writer would keep for ever. */
async function breathe(worksheet: ExcelJS.Worksheet): Promise<void> {
  const inner = worksheet as unknown as StreamedWorksheet;
  inner._formulae = {};
  await setImmediate();
  const packer = inner.stream?.pipes?.[0];
  if (packer?._writableState?.needDrain) {
    await new Promise<void>((resolve) => packer.once("drain", () => resolve()));
  }
}

export function openSheet(
  workbook: ExcelJS.stream.xlsx.WorkbookWriter,
  plan: SheetPlan,
  kind: WorkbookKind,
): SheetWriter {
  const worksheet = workbook.addWorksheet(plan.name, {
    views: viewOf(plan),
    properties: { defaultRowHeight: 15 },
    headerFooter: {
      oddFooter: `&L&8 ${footerText(plan.footer)}&C&8Page &P of &N&R&8 ${footerText(plan.programLine)}`,
    },
    pageSetup: {
      paperSize: A4,
      orientation: plan.landscape ? "landscape" : "portrait",
      fitToPage: true,
      fitToWidth: plan.pagesWide,
      fitToHeight: 0,
      margins: { left: 0.5, right: 0.5, top: 0.6, bottom: 0.7, header: 0.3, footer: 0.3 },
      ...(plan.titleRows === null ? {} : { printTitlesRow: plan.titleRows }),
      ...(plan.titleColumns === undefined ? {} : { printTitlesColumn: plan.titleColumns }),
    },
  });
  worksheet.columns = plan.widths.map((width) => ({ width }));
  let nextRow = 1;

  function write(cells: readonly Cell[], reach: Reach | null): void {
    const line = worksheet.getRow(nextRow);
    const height = heightOf(cells, plan.widths, reach);
    if (height !== null) line.height = height;
    cells.forEach((cell, index) => {
      if (cell === EMPTY) return;
      const target = line.getCell(index + 1);
      target.value = writtenValue(cell, kind);
      target.style = LOOKS[cell.look];
    });
    if (reach !== null) worksheet.mergeCells(nextRow, reach.from, nextRow, reach.to);
    line.commit();
    nextRow += 1;
  }

  const row = (cells: readonly Cell[]): void => write(cells, null);

  return {
    name: plan.name,
    get nextRow() {
      return nextRow;
    },
    row,
    spread: (cells, from, to) => write(cells, { from, to }),
    async longRow(cells) {
      row(cells);
      if (nextRow % ROWS_PER_BREATH === 0) await breathe(worksheet);
    },
    skip() {
      nextRow += 1;
    },
    nameCell(at, column, name) {
      if (kind === "live") workbook.definedNames.add(`'${plan.name}'!$${columnLetters(column)}$${at}`, name);
    },
    async finish() {
      worksheet.commit();
      await setImmediate();
    },
  };
}
