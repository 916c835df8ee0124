import type { BlockChoices, BlockColumn, FailedCell } from "../contract/records/block.ts";
import type { MethodDefinition } from "../contract/records/method.ts";
import { Note, OptionalLine } from "../contract/records/primitives.ts";
import type { ReadingCell, StagePosition } from "../contract/records/sheet.ts";
import { readDecimal } from "../quantity/decimal-text.ts";
import { InputError } from "../quantity/input-error.ts";
import { readFinderSquare } from "./finder-square.ts";
import { entryOfEdge } from "./readings.ts";
import { cellsOfText } from "./tab-separated.ts";

/** One pasted reading that could be read. */
export interface BlockReading {
  readonly cell: ReadingCell;
  readonly typed: string;
  /** Where it was pasted, counted from 1. */
  readonly column: number;
}

/** One pasted line as a row; null where the block has no such column or the cell is empty. */
export interface BlockLine {
  /** Counted from 1, as pasted. */
  readonly line: number;
  readonly label: string | null;
  readonly note: string | null;
  /** What the line gives of the position; null: nothing. */
  readonly stage: Partial<StagePosition> | null;
  readonly readings: readonly BlockReading[];
}

export interface ReadBlock {
  readonly lines: readonly BlockLine[];
  readonly failed: readonly FailedCell[];
  /** Cells left out by choice. */
  readonly excludedCells: number;
  /** Texts by line as they were pasted or corrected, without headers and lines left out; for the preview. */
  readonly cells: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

/** Two columns that become the same thing are told apart by this. */
function keyOf(column: BlockColumn): string {
  if (column.kind !== "reading") return column.kind;
  const { dimension, edge, repeat } = column.cell;
  return `${dimension} ${edge} ${repeat}`;
}

/**
 * Checks that the columns go together. `fillsRows`: the block goes into rows that are there, which need no reading.
 * @throws InputError `columns.N`
 */
export function requireColumns(
  columns: readonly BlockColumn[],
  definition: Pick<MethodDefinition, "dimensions">,
  fillsRows = false,
): void {
  const kinds = new Map<string, string>();
  columns.forEach((column, i) => {
    const field = `columns.${i}`;
    const twin = columns.findIndex((other) => keyOf(other) === keyOf(column));
    if (column.kind !== "ignored" && twin < i)
      throw new InputError(field, `becomes the same as column ${twin + 1}`);
    if (column.kind !== "reading") return;
    const { dimension, edge } = column.cell;
    if (!definition.dimensions.some((one) => one.key === dimension)) {
      throw new InputError(field, "names a dimension that the method does not have");
    }
    const entry = entryOfEdge(edge);
    if ((kinds.get(dimension) ?? entry) !== entry) {
      throw new InputError(field, "gives divisions for a dimension whose edges are in other columns");
    }
    kinds.set(dimension, entry);
  });
  if (fillsRows && columns.some((column) => column.kind !== "ignored")) return;
  if (!columns.some((column) => column.kind === "reading")) {
    throw new InputError("columns", "must hold at least one column of readings");
  }
}

/** Reads the cells of one line. */
class LineReader {
  readonly failed: FailedCell[] = [];
  readonly #line: number;
  readonly #cells: readonly string[];
  readonly #isLeftOut: (column: number) => boolean;

  constructor(line: number, cells: readonly string[], isLeftOut: (column: number) => boolean) {
    this.#line = line;
    this.#cells = cells;
    this.#isLeftOut = isLeftOut;
  }

  #fail(index: number, reason: string): null {
    this.failed.push({ line: this.#line, column: index + 1, text: this.#cells[index] ?? "", reason });
    return null;
  }

  /** The text of a cell when it is to be taken in. */
  text(index: number): string | null {
    const text = this.#cells[index] ?? "";
    return text === "" || this.#isLeftOut(index + 1) ? null : text;
  }

  isLeftOut(index: number): boolean {
    return this.#isLeftOut(index + 1);
  }

  words(index: number, schema: typeof OptionalLine | typeof Note): string | null {
    const text = this.text(index);
    if (text === null) return null;
    const parsed = schema.safeParse(text);
    return parsed.success
      ? parsed.data
      : this.#fail(index, parsed.error.issues[0]?.message ?? "cannot be kept");
  }

  number(index: number): string | null {
    return this.#read(index, readDecimal);
  }

  square(index: number): string | null {
    return this.#read(index, readFinderSquare);
  }

  #read(index: number, read: (field: string, text: string) => unknown): string | null {
    const text = this.text(index);
    if (text === null) return null;
    try {
      read("cell", text);
      return text;
    } catch (error) {
      if (error instanceof InputError) return this.#fail(index, error.reason);
      throw error;
    }
  }

  /** An edge whose other edge was pasted must not be empty. */
  requireOther(index: number, other: string): void {
    if ((this.#cells[index] ?? "") === "" && !this.isLeftOut(index)) {
      this.#fail(index, `is empty, but the ${other} edge is given`);
    }
  }

  requireNoMore(columns: number): void {
    this.#cells.forEach((text, index) => {
      if (index >= columns && text !== "" && !this.isLeftOut(index)) {
        this.#fail(index, "stands in a column for which nothing was chosen");
      }
    });
  }
}

function readLine(reader: LineReader, columns: readonly BlockColumn[], line: number): BlockLine {
  const at = (kind: BlockColumn["kind"]): number => columns.findIndex((column) => column.kind === kind);
  const readings = columns.flatMap((column, index): BlockReading[] => {
    if (column.kind !== "reading") return [];
    const typed = reader.number(index);
    return typed === null ? [] : [{ cell: column.cell, typed, column: index + 1 }];
  });
  columns.forEach((column, index) => {
    if (column.kind !== "reading" || column.cell.edge === "direct") return;
    const { dimension, edge, repeat } = column.cell;
    const other = edge === "left" ? "right" : "left";
    const twin = columns.findIndex(
      (one) =>
        one.kind === "reading" &&
        keyOf(one) === keyOf({ kind: "reading", cell: { dimension, edge: other, repeat } }),
    );
    if (twin >= 0 && reader.text(twin) !== null) reader.requireOther(index, other);
  });
  const given = {
    x: reader.number(at("stage-x")),
    y: reader.number(at("stage-y")),
    square: reader.square(at("stage-square")),
  };
  const stage = Object.fromEntries(Object.entries(given).filter(([, typed]) => typed !== null));
  reader.requireNoMore(columns.length);
  return {
    line,
    label: reader.words(at("label"), OptionalLine),
    note: reader.words(at("note"), Note),
    stage: Object.keys(stage).length === 0 ? null : stage,
    readings,
  };
}

/** Whether a line makes or fills a row: a new row begins with a reading, one that is there may get a label alone. */
function fills({ readings, label, note, stage }: BlockLine, fillsRows: boolean): boolean {
  return readings.length > 0 || (fillsRows && (label ?? note ?? stage) !== null);
}

/**
 * Pasted text as rows of readings, with every cell that cannot be taken in and why. Empty lines are passed over; a line
 * without a reading becomes no row, but for one that goes into a row that is there (`startAt`).
 * @throws InputError `columns.N` when the columns do not go together
 */
export function readBlock(
  text: string,
  choices: Pick<BlockChoices, "columns" | "skipFirstLine" | "excluded" | "corrections"> &
    Partial<Pick<BlockChoices, "startAt">>,
  definition: Pick<MethodDefinition, "dimensions">,
): ReadBlock {
  const { columns, startAt = null } = choices;
  requireColumns(columns, definition, startAt !== null);
  const place = (line: number, column: number | null): string => `${line}:${column ?? "*"}`;
  const excluded = new Set(choices.excluded.map((one) => place(one.line, one.column)));
  const corrected = new Map(choices.corrections.map((one) => [place(one.line, one.column), one.text.trim()]));
  const read: {
    lines: BlockLine[];
    failed: FailedCell[];
    cells: { line: number; cells: string[] }[];
    excludedCells: number;
  } = {
    lines: [],
    failed: [],
    cells: [],
    excludedCells: 0,
  };
  cellsOfText(text).forEach((pasted, index) => {
    const line = index + 1;
    if (index === 0 && choices.skipFirstLine) return;
    const cells = pasted.map((cell, at) => corrected.get(place(line, at + 1)) ?? cell);
    for (let at = cells.length; at < columns.length; at += 1)
      cells.push(corrected.get(place(line, at + 1)) ?? "");
    if (cells.every((cell) => cell === "")) return;
    if (excluded.has(place(line, null))) {
      read.excludedCells += cells.filter((cell) => cell !== "").length;
      return;
    }
    const reader = new LineReader(line, cells, (column) => excluded.has(place(line, column)));
    const row = readLine(reader, columns, line);
    read.excludedCells += cells.filter((cell, at) => cell !== "" && reader.isLeftOut(at)).length;
    read.failed.push(...reader.failed);
    read.cells.push({ line, cells });
    if (fills(row, startAt !== null)) read.lines.push(row);
    else if (reader.failed.length === 0 && row.label !== null) {
      // A label alone would vanish without a word.
      const failing = columns.findIndex((column, at) => column.kind === "reading" && !reader.isLeftOut(at));
      if (failing >= 0) {
        read.failed.push({
          line,
          column: failing + 1,
          text: "",
          reason: "is empty: the line has no reading",
        });
      }
    }
  });
  return read;
}
