import { setImmediate } from "node:timers/promises";
import type { PageSetup, WorksheetView } from "exceljs";
import type { Paper } from "#core/contract/records/exchange.ts";
import type { Progress } from "../../long-work/progress.ts";
import type { BookWriter, StreamedSheet } from "./book-writer.ts";
import { type Cell, EMPTY, type WorkbookKind, writtenValue } from "./cell.ts";
import { LEAST_SCALE, MARGINS, type PagePlan, pagePlan } from "./page-plan.ts";
import { heightOf, type Reach } from "./row-height.ts";
import { LOOKS, MARKS } from "./styles.ts";

/** After so much work the writer lets the program breathe and waits for the packer to catch up, ms. */
const SLICE_MS = 4;
/** A packer far behind would keep what waits for it in memory, however quick the rows are. */
const MOST_ROWS_PER_BREATH = 50;
/** ECMA-376 Part 1, 18.3.1.63: 9 is A4, 1 is Letter. */
const PAPER_CODES = { A4: 9, Letter: 1 } as const;

export interface SheetPlan {
  readonly name: string;
  /** Widths in characters, one per column. */
  readonly widths: readonly number[];
  /** Rows and columns that stay in place when scrolling. */
  readonly frozenRows: number;
  readonly frozenColumns: number;
  /** Rows repeated on every printed page, e.g. `1:1`; null for none. */
  readonly titleRows: string | null;
  readonly landscape: boolean;
  /** So many first columns are printed, the others are workings; all of them when left out. */
  readonly printedColumns?: number;
  /** Columns, from 1, that begin a page, and that stay beside the one before, when there are several pages. */
  readonly begins?: readonly number[];
  readonly follows?: readonly number[];
  /** Printed at the foot of every page, left. */
  readonly footer: string;
  readonly programLine: string;
  /** True where the rows are the sheet's own: their number is the progress of the writing. */
  readonly countsRows?: boolean;
}

/** What every worksheet of a workbook has in common. */
export interface BookSetUp {
  readonly kind: WorkbookKind;
  readonly paper: Paper;
  readonly progress: Progress;
}

/** Cells of one column that are marked when a formula about the first of them is true. */
export interface Mark {
  /** `A2:D101` */
  readonly range: string;
  /** Without `=`, about the first row of the range. */
  readonly when: string;
  readonly look: "struck" | "flagged" | "missing";
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
  /** As `nameCell`, for cells of one column. */
  nameRange(from: number, to: number, column: number, name: string): void;
  /** Marks cells by a rule that the spreadsheet keeps applying. */
  mark(mark: Mark): void;
  /** Lets a range take only numbers between two limits, with a message for whoever types something else. */
  onlyNumbers(range: string, least: number, most: number, message: string): void;
  /** Shows a drawing of the workbook by its address; the last word of the sheet about itself. */
  showDrawing(target: string): void;
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

/** Characters of one line of the foot's left half. */
const FOOT_LINE = 56;
const MOST_FOOT_LINES = 3;

/** Codes in headers and footers begin with `&`, and together they may have 255 characters. */
function footerText(text: string): string {
  const lines: string[] = [""];
  for (const word of text.split(" ")) {
    const last = lines.at(-1) ?? "";
    if (last === "") lines[lines.length - 1] = word;
    else if (last.length + 1 + word.length <= FOOT_LINE) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  const kept = lines.slice(0, MOST_FOOT_LINES).map((line) => line.slice(0, FOOT_LINE));
  const shown = lines.length > MOST_FOOT_LINES ? [...kept.slice(0, -1), `${kept.at(-1)} …`] : kept;
  return shown.join("\n").replaceAll("&", "&&");
}

/** The trace on the left, page and program on the right. Spreadsheets scale a foot with its page, so it is set as large as the cells. */
function footOf({ footer, programLine }: SheetPlan): string {
  return `&L&11 ${footerText(footer)}&R&11 Page &P of &N\n${footerText(programLine)}`;
}

function pageOf(plan: SheetPlan, paper: Paper): PagePlan {
  return pagePlan({
    widths: plan.widths.slice(0, plan.printedColumns ?? plan.widths.length),
    repeated: plan.frozenColumns,
    paper,
    landscape: plan.landscape,
    begins: plan.begins ?? [],
    follows: plan.follows ?? [],
  });
}

function setUpOf(plan: SheetPlan, page: PagePlan, paper: Paper): Partial<PageSetup> {
  const several = page.kind === "groups";
  return {
    paperSize: PAPER_CODES[paper] as number,
    orientation: plan.landscape ? "landscape" : "portrait",
    ...(several
      ? { fitToPage: false, scale: LEAST_SCALE }
      : { fitToPage: true, fitToWidth: 1, fitToHeight: 0 }),
    margins: { ...MARGINS },
    ...(plan.titleRows === null ? {} : { printTitlesRow: plan.titleRows }),
    ...(several && plan.frozenColumns > 0
      ? { printTitlesColumn: `A:${columnLetters(plan.frozenColumns)}` }
      : {}),
    ...(plan.printedColumns === undefined ? {} : { printArea: `A:${columnLetters(plan.printedColumns)}` }),
  };
}

/** The library writes breaks between rows only; those between columns stand behind them (ECMA-376 Part 1, 18.3.1.14). */
function breakColumns(worksheet: StreamedSheet, page: PagePlan): void {
  if (page.kind !== "groups" || page.breaks.length === 0) return;
  const marks = page.breaks.map((column) => `<brk id="${column}" max="1048575" man="1"/>`).join("");
  const count = page.breaks.length;
  worksheet._writeRowBreaks = () => {
    worksheet._write(`<colBreaks count="${count}" manualBreakCount="${count}">${marks}</colBreaks>`);
  };
}

function viewOf(plan: SheetPlan): Partial<WorksheetView>[] {
  if (plan.frozenRows === 0 && plan.frozenColumns === 0) return [{ showGridLines: false }];
  return [{ state: "frozen", xSplit: plan.frozenColumns, ySplit: plan.frozenRows, showGridLines: false }];
}

/** Gives the program a turn, waits for the packer, and drops what the writer would keep for ever. */
async function waitForPacker(
  workbook: BookWriter,
  worksheet: StreamedSheet,
  progress: Progress,
): Promise<void> {
  progress.signal.throwIfAborted();
  worksheet._formulae = {};
  await setImmediate();
  await workbook.roomAgain();
}

export function openSheet(
  workbook: BookWriter,
  plan: SheetPlan,
  { kind, paper, progress }: BookSetUp,
): SheetWriter {
  const page = pageOf(plan, paper);
  const worksheet = workbook.addWorksheet(plan.name, {
    views: viewOf(plan),
    properties: { defaultRowHeight: 15 },
    headerFooter: { oddFooter: footOf(plan) },
    pageSetup: setUpOf(plan, page, paper),
  });
  breakColumns(worksheet, page);
  worksheet.columns = plan.widths.map((width) => ({ width }));
  let nextRow = 1;
  let unreported = 0;
  let since = performance.now();
  let marks = 0;

  function write(cells: readonly Cell[], reach: Reach | null): void {
    const line = worksheet.getRow(nextRow);
    const height = heightOf(cells, plan.widths, reach);
    if (height !== null) line.height = height;
    cells.forEach((cell, index) => {
      if (cell === EMPTY) return;
      const target = line.getCell(index + 1);
      target.value = writtenValue(cell, kind, () => target.address);
      target.style = LOOKS[cell.look];
    });
    if (reach !== null) worksheet.mergeCells(nextRow, reach.from, nextRow, reach.to);
    line.commit();
    nextRow += 1;
  }

  const row = (cells: readonly Cell[]): void => write(cells, null);

  function report(): void {
    if (plan.countsRows) progress.advance(unreported);
    unreported = 0;
  }

  return {
    name: plan.name,
    get nextRow() {
      return nextRow;
    },
    row,
    spread: (cells, from, to) => write(cells, { from, to }),
    async longRow(cells) {
      row(cells);
      unreported += 1;
      if (unreported < MOST_ROWS_PER_BREATH && performance.now() - since < SLICE_MS) return;
      report();
      await waitForPacker(workbook, worksheet, progress);
      since = performance.now();
    },
    mark({ range, when, look }) {
      marks += 1;
      worksheet.addConditionalFormatting({
        ref: range,
        rules: [{ type: "expression", priority: marks, formulae: [when], style: MARKS[look] }],
      });
    },
    onlyNumbers(range, least, most, message) {
      if (kind === "values") return;
      worksheet.dataValidations.add(range, {
        type: "decimal",
        operator: "between",
        formulae: [least, most],
        allowBlank: true,
        showErrorMessage: true,
        errorStyle: "stop",
        errorTitle: "Not a reading",
        error: message,
      });
    },
    skip() {
      nextRow += 1;
    },
    nameCell(at, column, name) {
      if (kind === "live") workbook.definedNames.add(`'${plan.name}'!$${columnLetters(column)}$${at}`, name);
    },
    nameRange(from, to, column, name) {
      const letters = columnLetters(column);
      const range = `'${plan.name}'!$${letters}$${from}:$${letters}$${to}`;
      if (kind === "live") workbook.definedNames.add(range, name);
    },
    showDrawing(target) {
      const Type = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/drawing";
      const related = worksheet._sheetRelsWriter.addRelationship({ Target: target, Type });
      worksheet._writeLegacyData = () => worksheet._write(`<drawing r:id="${related}"/>`);
    },
    async finish() {
      progress.signal.throwIfAborted();
      report();
      worksheet.commit();
      await setImmediate();
    },
  };
}
