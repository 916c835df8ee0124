import type { CellDifference } from "#core/contract/records/exchange.ts";
import { type Following, UNFOLLOWED } from "../long-work/following.ts";
import { createYielder } from "../long-work/yield-to-events.ts";
import { columnLetters } from "../workbook/spreadsheet/sheet-writer.ts";
import type { FoundCell, WorkbookFile } from "./workbook-file.ts";

/** So many differences are listed; all are counted. */
const MOST_LISTED = 200;
/** Another program recomputes a quantile to about this; nobody edits a reading by so little. */
const SAME_RESULT = 1e-6;
const SAME_NUMBER = 1e-12;

export interface Comparison {
  readonly cells: number;
  readonly differing: number;
  readonly differences: readonly CellDifference[];
}

async function* oneByOne(
  cells: AsyncGenerator<readonly FoundCell[]>,
  signal: AbortSignal,
): AsyncGenerator<FoundCell> {
  const yieldToEvents = createYielder();
  for await (const piece of cells) {
    for (const cell of piece) {
      if (cell.value === "" && cell.formula === null) continue;
      yield cell;
    }
    await yieldToEvents();
    signal.throwIfAborted();
  }
}

/** Programs write the same formula with other blanks, other forms of a number, and with or without a prefix. */
function plainFormula(formula: string): string {
  return formula
    .replace(/^=/, "")
    .replaceAll("_xlfn.", "")
    .replace(/\s+/g, "")
    .replace(/(?<![\w$.])\d+(?:\.\d+)?(?:E[+-]?\d+)?(?![\w.])/gi, (literal) => String(Number(literal)))
    .replace(/'([A-Za-z]+)'!/g, "$1!");
}

function sameValue(found: FoundCell["value"], expected: FoundCell["value"], tolerance: number): boolean {
  if (typeof found === "number" && typeof expected === "number") {
    return Math.abs(found - expected) <= tolerance * Math.max(Math.abs(expected), 1e-9);
  }
  return (found ?? "") === (expected ?? "");
}

/** A formula that another program saved without its value is held against the formula alone. */
function sameCell(found: FoundCell, expected: FoundCell): boolean {
  if (expected.formula === null)
    return found.formula === null && sameValue(found.value, expected.value, SAME_NUMBER);
  if (found.formula === null) return false;
  const formulaAgrees =
    found.formula === "" || plainFormula(found.formula) === plainFormula(expected.formula);
  return formulaAgrees && (found.value === null || sameValue(found.value, expected.value, SAME_RESULT));
}

function shown(cell: FoundCell | null): string {
  if (cell === null) return "empty";
  const value = cell.value === null ? "" : String(cell.value);
  return (cell.formula ? `=${cell.formula.replace(/^=/, "")} → ${value}` : value).slice(0, 300);
}

function order(a: FoundCell, b: FoundCell): number {
  return a.row - b.row || a.column - b.column;
}

interface Pair {
  readonly found: FoundCell | null;
  readonly expected: FoundCell | null;
}

/** Cells of the same place side by side; null where one workbook has none. Both come in the order of the file. */
async function* paired(
  found: AsyncGenerator<FoundCell>,
  expected: AsyncGenerator<FoundCell>,
): AsyncGenerator<Pair> {
  let left = await found.next();
  let right = await expected.next();
  while (!left.done && !right.done) {
    const which = order(left.value, right.value);
    yield { found: which <= 0 ? left.value : null, expected: which >= 0 ? right.value : null };
    if (which <= 0) left = await found.next();
    if (which >= 0) right = await expected.next();
  }
  for (; !left.done; left = await found.next()) yield { found: left.value, expected: null };
  for (; !right.done; right = await expected.next()) yield { found: null, expected: right.value };
}

async function compareSheet(
  name: string,
  pairs: AsyncGenerator<Pair>,
  note: (difference: CellDifference) => void,
): Promise<number> {
  let cells = 0;
  for await (const { found, expected } of pairs) {
    cells += 1;
    const at = expected ?? found;
    if (at === null || (found !== null && expected !== null && sameCell(found, expected))) continue;
    note({
      worksheet: name,
      cell: `${columnLetters(at.column)}${at.row}`,
      found: shown(found),
      expected: shown(expected),
    });
  }
  return cells;
}

/** Holds two workbooks against each other, cell by cell, without keeping either in memory. */
export async function compareWorkbooks(
  found: WorkbookFile,
  expected: WorkbookFile,
  { signal, tell }: Following = UNFOLLOWED,
): Promise<Comparison> {
  const differences: CellDifference[] = [];
  let differing = 0;
  let cells = 0;
  const note = (difference: CellDifference): void => {
    differing += 1;
    if (differences.length < MOST_LISTED) differences.push(difference);
  };
  for (const [done, name] of expected.worksheets.entries()) {
    tell({ part: `comparing ${name}`, done, parts: expected.worksheets.length });
    if (found.worksheets.includes(name)) {
      const pairs = paired(oneByOne(found.cells(name), signal), oneByOne(expected.cells(name), signal));
      cells += await compareSheet(name, pairs, note);
    } else note({ worksheet: name, cell: "", found: "no such worksheet", expected: "a worksheet" });
  }
  for (const name of found.worksheets) {
    if (!expected.worksheets.includes(name))
      note({ worksheet: name, cell: "", found: "a worksheet", expected: "no such worksheet" });
  }
  return { cells, differing, differences };
}
