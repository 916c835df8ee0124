import type { BlockColumn } from "#core/contract/records/block.ts";
import type { MethodDefinition } from "#core/contract/records/method.ts";
import { guessColumns } from "#core/measurement/block-columns.ts";
import { nextLabel } from "#core/measurement/next-label.ts";
import type { BlockColumnKind } from "#core/vocabulary/block-column.ts";
import { cellOf, type GridColumn } from "../../../grid/grid-columns.ts";
import { freshAt, type GridState } from "../../../grid/grid-state.ts";
import { labelOf } from "../../../grid/typing.ts";
import { copiedHeadings } from "./copied-columns.ts";
import { MOST_COLUMNS, type Paste, type PasteChoices, type PastedLines } from "./paste-choices.ts";

/** Lines looked at for a first guess. */
const LOOKED_AT = 50;

type ReadingColumn = Extract<GridColumn, { kind: "reading" }>;

/** By the key of the column. */
const BESIDE_READINGS: Readonly<Record<string, BlockColumnKind>> = {
  label: "label",
  note: "note",
  "stage.x": "stage-x",
  "stage.y": "stage-y",
  "stage.square": "stage-square",
};

/** What a column of this grid becomes when it is pasted again: computed ones are computed anew. */
export function asBlockColumn(column: GridColumn | undefined): BlockColumn {
  if (column?.kind === "reading") return { kind: "reading", cell: cellOf(column) };
  const found = column && BESIDE_READINGS[column.key];
  return { kind: found ?? "ignored" };
}

/** Columns under the headings that a copy from this program carries; null: the first line is no such heading. */
function byHeadings(
  [first = []]: PastedLines,
  columns: readonly GridColumn[],
  definition: MethodDefinition,
): readonly BlockColumn[] | null {
  const named = new Map(
    columns.flatMap((column) =>
      [false, true].flatMap((apart) =>
        copiedHeadings(column, definition, apart).map((heading) => [heading, column] as const),
      ),
    ),
  );
  if (first.length === 0 || !first.every((heading) => named.has(heading))) return null;
  const found = first.map((heading) => asBlockColumn(named.get(heading)));
  return found.some((column) => column.kind === "reading") ? found : null;
}

/** The readings from the column of the cursor on; from the first where it is on no reading. */
function readingsFrom({ columns, cursor }: GridState): readonly ReadingColumn[] {
  const isReading = (column: GridColumn): column is ReadingColumn => column.kind === "reading";
  const here = columns[cursor.column];
  return (here && isReading(here) ? columns.slice(cursor.column) : columns).filter(isReading);
}

/** Numbers in one column are the divisions of an old notebook. */
function divisionsColumn(state: GridState): BlockColumn {
  const [first] = readingsFrom(state);
  if (!first) return { kind: "ignored" };
  const cell = cellOf(first);
  return { kind: "reading", cell: cell.edge === "direct" ? cell : { ...cell, edge: "direct", repeat: 1 } };
}

/** One column into rows that are there goes into the column of the cursor. */
function guessed(
  lines: PastedLines,
  state: GridState,
  definition: MethodDefinition,
  isNewRow: boolean,
): { readonly columns: readonly BlockColumn[]; readonly skipFirstLine: boolean } {
  const guess = guessColumns(lines.slice(0, LOOKED_AT), definition);
  const own = asBlockColumn(state.columns[state.cursor.column]);
  if (guess.columns.length === 1 && !isNewRow && own.kind !== "ignored") return { ...guess, columns: [own] };
  if (guess.columns.length === 1 && guess.columns[0]?.kind === "reading") {
    return { ...guess, columns: [divisionsColumn(state)] };
  }
  const cells = readingsFrom(state);
  let next = 0;
  const columns = guess.columns.map((column): BlockColumn => {
    if (column.kind !== "reading") return column;
    const cell = cells[next];
    next += 1;
    return cell ? { kind: "reading", cell: cellOf(cell) } : { kind: "ignored" };
  });
  return { ...guess, columns };
}

/** The label that new rows begin with: that of the row of the cursor, else the one that follows on the last row's. */
function firstLabelOf(state: GridState): string {
  const own = freshAt(state, state.cursor.row) ? labelOf(state, state.cursor.row) : "";
  return own !== "" ? own : nextLabel(labelOf(state, state.total - 1));
}

/**
 * What a pasted block most likely is: by the headings of a copy from this program, by its place when it was copied in
 * this window (`copiedColumns`), else by what stands in it, readings going to the columns from the cursor on.
 */
export function guessPaste(
  lines: PastedLines,
  state: GridState,
  definition: MethodDefinition,
  copiedColumns: readonly GridColumn[] | null,
): { readonly paste: Paste; readonly choices: PasteChoices } {
  const width = Math.min(MOST_COLUMNS, Math.max(1, ...lines.slice(0, LOOKED_AT).map((line) => line.length)));
  const widest = Math.min(
    MOST_COLUMNS,
    lines.reduce((most, line) => Math.max(most, line.length), width),
  );
  const isNewRow = state.cursor.row >= state.total;
  const headed = byHeadings(lines, state.columns, definition);
  const guess = headed
    ? { columns: headed, skipFirstLine: true }
    : copiedColumns
      ? { columns: copiedColumns.map(asBlockColumn), skipFirstLine: false }
      : guessed(lines, state, definition, isNewRow);
  const columns = Array.from({ length: widest }, (_, at) => guess.columns[at] ?? IGNORED);
  return {
    paste: {
      lines,
      width: widest,
      cursorAt: isNewRow ? null : state.cursor.row + 1,
      total: state.total,
    },
    choices: {
      columns,
      skipFirstLine: guess.skipFirstLine,
      intoRows: !isNewRow,
      firstLabel: firstLabelOf(state),
      corrections: new Map(),
      excluded: new Set(),
    },
  };
}

const IGNORED: BlockColumn = { kind: "ignored" };
