import type { BlockChoices, BlockPreview, FailedCell } from "#core/contract/records/block.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import { blockColumnWords } from "#core/measurement/block-columns.ts";
import { type BlockLine, type ReadBlock, readBlock } from "#core/measurement/read-block.ts";
import { entryOfEdge } from "#core/measurement/readings.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { pageOfRows } from "../../store/repositories/row-repository.ts";
import { textOfBlock } from "../../store/repositories/staged-block-repository.ts";
import { requireMethod } from "../methods/methods.ts";
import { withFieldPrefix } from "../write-context/typed-input.ts";
import { requireSheet } from "./sheets.ts";

const MOST_FAILED_LISTED = 500;
const EXAMPLES = 3;

/** A staged block together with the rows its lines would go into. */
export interface BlockOnSheet {
  readonly sheet: Sheet;
  readonly method: Method;
  readonly read: ReadBlock;
  /** In the order of the lines; null: a new row. */
  readonly rows: readonly (SpecimenRow | null)[];
  readonly failed: readonly FailedCell[];
}

/**
 * The row each line goes into: line by line from `startAt` on, so that an empty line, or one that is left out, passes
 * its row over as it would in a spreadsheet. Null: a new row.
 */
function rowsBehind(
  db: ReadableDb,
  sheet: Sheet,
  { startAt, skipFirstLine }: Pick<BlockChoices, "startAt" | "skipFirstLine">,
  lines: readonly BlockLine[],
): (SpecimenRow | null)[] {
  if (startAt === null) return lines.map(() => null);
  if (startAt > sheet.rowCount + 1) {
    throw new InputError("startAt", `is beyond the end: the sheet has ${countedNoun(sheet.rowCount, "row")}`);
  }
  const first = skipFirstLine ? 2 : 1;
  const there = pageOfRows(db, sheet.id, startAt, (lines.at(-1)?.line ?? first) - first + 1);
  return lines.map(({ line }) => there[line - first] ?? null);
}

/** Why a line does not become a new row. */
function failureOfNewRow(line: BlockLine, columns: BlockChoices["columns"]): FailedCell[] {
  if (line.readings.length > 0) return [];
  const reading = columns.findIndex((column) => column.kind === "reading");
  const reason = "is beyond the last row, and a new row begins with a reading";
  return [{ line: line.line, column: Math.max(0, reading) + 1, text: "", reason }];
}

/** Why the readings of a line do not go into the row that is there. */
function failuresInRow(line: BlockLine, row: SpecimenRow, cells: readonly string[]): FailedCell[] {
  if (row.struck && line.readings.length === 0) {
    return [{ line: line.line, column: 1, text: cells[0] ?? "", reason: `row ${row.ordinal} is struck` }];
  }
  return line.readings.flatMap(({ cell, column }): FailedCell[] => {
    const before = row.measurements.find((one) => one.dimension === cell.dimension);
    const text = cells[column - 1] ?? "";
    if (row.struck) return [{ line: line.line, column, text, reason: `row ${row.ordinal} is struck` }];
    if (!before || before.entry === entryOfEdge(cell.edge)) return [];
    const kind = before.entry === "direct" ? "in divisions" : "at two edges";
    return [{ line: line.line, column, text, reason: `row ${row.ordinal} was read ${kind}` }];
  });
}

/**
 * Reads a staged block as it would go onto its sheet; changes nothing.
 * @throws Refusal `sheet.unknown`, `block.unknown`; InputError for columns that do not go together
 */
export function blockOnSheet(db: ReadableDb, choices: BlockChoices): BlockOnSheet {
  const sheet = requireSheet(db, choices.sheetId);
  const text = textOfBlock(db, sheet.id, choices.blockId);
  if (text === null) {
    throw new Refusal("block.unknown", "What was pasted is no longer there.", {
      field: "blockId",
      hint: "Paste it again; a paste is kept for a day and forgotten once it has been taken in.",
    });
  }
  const method = requireMethod(db, sheet.methodId, "sheetId");
  const read = readBlock(text, choices, method.definition);
  const rows = rowsBehind(db, sheet, choices, read.lines);
  const cellsOfLine = new Map(read.cells.map(({ line, cells }) => [line, cells]));
  const inRows = read.lines.flatMap((line, i) => {
    const row = rows[i];
    return row
      ? failuresInRow(line, row, cellsOfLine.get(line.line) ?? [])
      : failureOfNewRow(line, choices.columns);
  });
  const failed = [...read.failed, ...inRows].sort((a, b) => a.line - b.line || a.column - b.column);
  return { sheet, method, read, rows, failed };
}

/** As `blockOnSheet`, for a call that holds the choices under `block`. */
export function blockToEnter(db: ReadableDb, choices: BlockChoices): BlockOnSheet {
  return withFieldPrefix("block", () => blockOnSheet(db, choices));
}

export function previewOf(block: BlockOnSheet, choices: BlockChoices): BlockPreview {
  const { read, rows, failed, method } = block;
  const newRows = rows.filter((row) => row === null).length;
  return {
    lines: read.cells.length,
    newRows,
    filledRows: rows.length - newRows,
    readings: read.lines.reduce((sum, line) => sum + line.readings.length, 0),
    columns: choices.columns.map((column, index) => {
      const texts = read.cells.map(({ cells }) => cells[index] ?? "").filter((text) => text !== "");
      return {
        becomes: blockColumnWords(column, method.definition),
        filled: texts.length,
        failed: failed.filter((one) => one.column === index + 1).length,
        examples: texts.slice(0, EXAMPLES),
      };
    }),
    failed: failed.slice(0, MOST_FAILED_LISTED),
    failedCount: failed.length,
    excludedCells: read.excludedCells,
  };
}
