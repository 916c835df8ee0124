import type { BlockChoices, BlockColumn, FailedCell } from "#core/contract/records/block.ts";
import { nextLabel } from "#core/measurement/next-label.ts";
import { textOfCells } from "#core/measurement/tab-separated.ts";

/** Most columns of a block. */
export const MOST_COLUMNS = 60;

export type PastedLines = readonly (readonly string[])[];

/** What was pasted and where the cursor stood. */
export interface Paste {
  readonly lines: PastedLines;
  /** Cells of the longest line, at most `MOST_COLUMNS`. */
  readonly width: number;
  /** Ordinal of the stored row of the cursor; null: it stood at the next specimen. */
  readonly cursorAt: number | null;
  /** Stored rows of the sheet. */
  readonly total: number;
}

/** What the person has chosen so far. */
export interface PasteChoices {
  /** One for each pasted column. */
  readonly columns: readonly BlockColumn[];
  readonly skipFirstLine: boolean;
  /** Into the rows from the cursor on; else into new rows at the end. */
  readonly intoRows: boolean;
  /** Label of the first new row, from which the rest run on; used when no column holds labels. */
  readonly firstLabel: string;
  /** Cells typed anew, by `placeOf`. */
  readonly corrections: ReadonlyMap<string, string>;
  /** Cells and, by `placeOf(line, null)`, lines left out. */
  readonly excluded: ReadonlySet<string>;
}

type Place = Pick<FailedCell, "line"> & { readonly column: number | null };

/** Name of a pasted cell or (column null) line, both counted from 1. */
export function placeOf(line: number, column: number | null): string {
  return `${line}:${column ?? "*"}`;
}

function readPlace(place: string): Place {
  const [line, column] = place.split(":");
  return { line: Number(line), column: column === "*" ? null : Number(column) };
}

/** Labels are numbered on when no column holds them and there is a column left to hold them. */
export function takesLabels(paste: Paste, { columns }: PasteChoices): boolean {
  return paste.width < MOST_COLUMNS && !columns.some((column) => column.kind === "label");
}

function makesRow(cells: readonly string[], line: number, choices: PasteChoices): boolean {
  if (choices.excluded.has(placeOf(line, null))) return false;
  return choices.columns.some((column, index) => {
    if (column.kind !== "reading") return false;
    const place = placeOf(line, index + 1);
    return !choices.excluded.has(place) && (choices.corrections.get(place) ?? cells[index] ?? "") !== "";
  });
}

/** Lines with one more column: the labels of those that become new rows, each following from the one before. */
function withLabels(paste: Paste, choices: PasteChoices): PastedLines {
  const there = choices.intoRows && paste.cursorAt !== null ? paste.total - paste.cursorAt + 1 : 0;
  const first = choices.skipFirstLine ? 1 : 0;
  let label = choices.firstLabel.trim();
  return paste.lines.map((cells, index) => {
    const isNewRow = index >= first + there && makesRow(cells, index + 1, choices);
    if (!isNewRow) return cells;
    const padded = Array.from({ length: paste.width }, (_, at) => cells[at] ?? "");
    const own = label;
    label = nextLabel(label);
    return [...padded, own];
  });
}

/** The block as it is put aside for the service, and how it is to be read. */
export function blockOf(
  paste: Paste,
  choices: PasteChoices,
): { readonly text: string; readonly choices: Omit<BlockChoices, "sheetId" | "blockId"> } {
  const isLabelled = takesLabels(paste, choices) && choices.firstLabel.trim() !== "";
  const columns = isLabelled ? [...choices.columns, { kind: "label" } as const] : [...choices.columns];
  return {
    text: textOfCells(isLabelled ? withLabels(paste, choices) : paste.lines),
    choices: {
      columns,
      skipFirstLine: choices.skipFirstLine,
      startAt: choices.intoRows ? paste.cursorAt : null,
      excluded: [...choices.excluded].map(readPlace),
      corrections: [...choices.corrections].map(([place, text]) => {
        const { line, column } = readPlace(place);
        return { line, column: column ?? 1, text };
      }),
    },
  };
}

/** Another use of a column: what was said of single cells is asked again. */
export function withColumn(choices: PasteChoices, index: number, column: BlockColumn): PasteChoices {
  const columns = choices.columns.map((one, at) => (at === index ? column : one));
  return { ...choices, columns };
}

/** What is to become of a cell that fails; null: not decided. */
export type Remedy = { readonly corrected: string } | "cell left out" | "line left out" | null;

export function remedyOf({ corrections, excluded }: PasteChoices, { line, column }: FailedCell): Remedy {
  if (excluded.has(placeOf(line, null))) return "line left out";
  if (excluded.has(placeOf(line, column))) return "cell left out";
  const corrected = corrections.get(placeOf(line, column));
  return corrected === undefined ? null : { corrected };
}

/** Decides about cells: what was decided about them before is replaced. */
export function withRemedy(
  choices: PasteChoices,
  cells: readonly Pick<FailedCell, "line" | "column">[],
  remedy: Remedy,
): PasteChoices {
  const corrections = new Map(choices.corrections);
  const excluded = new Set(choices.excluded);
  for (const { line, column } of cells) {
    const place = placeOf(line, column);
    corrections.delete(place);
    excluded.delete(place);
    excluded.delete(placeOf(line, null));
    if (remedy === "cell left out") excluded.add(place);
    else if (remedy === "line left out") excluded.add(placeOf(line, null));
    else if (remedy !== null) corrections.set(place, remedy.corrected);
  }
  return { ...choices, corrections, excluded };
}
