import type { ImportChoice, ImportColumn, RefusedCell } from "#core/contract/records/exchange.ts";
import type { MethodDimension } from "#core/contract/records/method.ts";
import { Note, OptionalLine } from "#core/contract/records/primitives.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";

/** One reading to be entered, as found in the file. */
export interface ImportedReading {
  readonly dimension: string;
  readonly edge: "left" | "right" | "direct";
  readonly typed: string;
}

/** One line of the file that can become a row. */
export interface ImportedRow {
  /** 1-based line of the file. */
  readonly line: number;
  readonly label: string;
  readonly note: string;
  readonly readings: readonly ImportedReading[];
  /** Sizes that were converted before they came here: dimension and text as found, µm. */
  readonly converted: readonly { readonly dimension: string; readonly typed: string }[];
}

export interface ImportResult {
  readonly rows: readonly ImportedRow[];
  readonly refused: readonly RefusedCell[];
  /** Lines with at least one refused cell. */
  readonly refusedLines: number;
}

const EDGE_OF = { left: "left", right: "right", divisions: "direct" } as const;

/** Why the matching of columns cannot be used; null when it can. */
export function unclearColumns(
  columns: readonly ImportColumn[],
  dimensions: readonly MethodDimension[],
): string | null {
  const measures = columns.filter((one) => one.role !== "label" && one.role !== "note");
  if (measures.length === 0) return "No column is said to hold readings.";
  const used = new Set<number>();
  const meanings = new Set<string>();
  for (const { column, role, dimension } of columns) {
    const isReading = role !== "label" && role !== "note";
    if (isReading && !dimensions.some((one) => one.key === dimension)) {
      return `Column ${column + 1} needs a dimension of the method.`;
    }
    const meaning = isReading ? `${role} ${dimension}` : role;
    if (used.has(column)) return `Column ${column + 1} is given two meanings.`;
    if (meanings.has(meaning)) return `Two columns are said to hold the same: ${meaning}.`;
    used.add(column);
    meanings.add(meaning);
  }
  for (const { key, name } of dimensions) {
    const edges = meanings.has(`left ${key}`) || meanings.has(`right ${key}`);
    if (edges && meanings.has(`divisions ${key}`))
      return `${name} is read either at two edges or in divisions, not both.`;
  }
  return null;
}

/** Why a number cannot be taken; null when it can. */
function whyNoNumber(text: string): string | null {
  try {
    readDecimal("cell", text);
    return null;
  } catch (error) {
    if (error instanceof InputError) return error.reason;
    throw error;
  }
}

function whyNot(role: ImportColumn["role"], text: string): string | null {
  if (role === "label") return OptionalLine.safeParse(text).error?.issues[0]?.message ?? null;
  if (role === "note") return Note.safeParse(text).error?.issues[0]?.message ?? null;
  return whyNoNumber(text);
}

/** What a line becomes; text is put where its column belongs, nothing is computed. */
function rowOf(line: number, cells: readonly (readonly [ImportColumn, string])[]): ImportedRow {
  const text = (role: "label" | "note"): string =>
    cells.find(([column]) => column.role === role)?.[1].trim() ?? "";
  const readings: ImportedReading[] = [];
  const converted: { dimension: string; typed: string }[] = [];
  for (const [{ role, dimension }, typed] of cells) {
    if (role === "label" || role === "note" || dimension === null) continue;
    if (role === "micrometres") converted.push({ dimension, typed: typed.trim() });
    else readings.push({ dimension, edge: EDGE_OF[role], typed: typed.trim() });
  }
  return { line, label: text("label"), note: text("note"), readings, converted };
}

/**
 * Turns lines of a file into rows. A line with a cell that cannot be taken becomes none, and every such cell is named;
 * lines that are blank in all chosen columns are passed over.
 */
export function importRows(lines: readonly (readonly string[])[], choice: ImportChoice): ImportResult {
  const rows: ImportedRow[] = [];
  const refused: RefusedCell[] = [];
  let refusedLines = 0;
  lines.forEach((cells, index) => {
    if (index < choice.headingLines) return;
    const line = index + 1;
    const filled = choice.columns
      .map((column) => [column, cells[column.column] ?? ""] as const)
      .filter(([, text]) => text.trim() !== "");
    if (filled.length === 0) return;
    const bad = filled.flatMap(([{ column, role }, text]): RefusedCell[] => {
      const reason = whyNot(role, text);
      return reason === null ? [] : [{ line, column: column + 1, text: text.slice(0, 200), reason }];
    });
    if (bad.length > 0) {
      refused.push(...bad);
      refusedLines += 1;
    } else rows.push(rowOf(line, filled));
  });
  return { rows, refused, refusedLines };
}
