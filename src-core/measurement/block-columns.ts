import type { BlockColumn } from "../contract/records/block.ts";
import type { MethodDefinition } from "../contract/records/method.ts";
import type { ReadingCell } from "../contract/records/sheet.ts";
import { isTypedNumber } from "../quantity/decimal-text.ts";
import { readingsAsked } from "./readings.ts";

/**
 * A first guess at the columns from the first lines: the first column of words is the label, columns of numbers become
 * the cells of the method in their order, the last column of words the note.
 * @returns the guess, and whether the first line looks like headers
 */
export function guessColumns(
  lines: readonly (readonly string[])[],
  definition: Pick<MethodDefinition, "dimensions" | "entry" | "repeats">,
): { readonly columns: BlockColumn[]; readonly skipFirstLine: boolean } {
  const width = Math.min(60, Math.max(1, ...lines.map((line) => line.length)));
  const body = lines.slice(1, 50);
  const numeric = (index: number): boolean => {
    const texts = (body.length > 0 ? body : lines)
      .map((line) => line[index] ?? "")
      .filter((text) => text !== "");
    return texts.length > 0 && texts.filter(isTypedNumber).length * 2 > texts.length;
  };
  const edges = definition.entry === "direct" ? (["direct"] as const) : (["left", "right"] as const);
  const cells = definition.dimensions.flatMap((dimension) =>
    Array.from({ length: readingsAsked(dimension, definition.repeats) }, (_, i) =>
      edges.map((edge): ReadingCell => ({ dimension: dimension.key, edge, repeat: i + 1 })),
    ).flat(),
  );
  const kinds = Array.from({ length: width }, (_, index) => numeric(index));
  const words = kinds.flatMap((isNumeric, index) => (isNumeric ? [] : [index]));
  let next = 0;
  const columns = kinds.map((isNumeric, index): BlockColumn => {
    const cell = isNumeric ? cells[next] : undefined;
    if (cell) {
      next += 1;
      return { kind: "reading", cell };
    }
    if (isNumeric) return { kind: "ignored" };
    if (index === words[0]) return { kind: "label" };
    return { kind: index === words.at(-1) ? "note" : "ignored" };
  });
  const [first] = lines;
  const isHeader = (first ?? []).every((text, index) => !kinds[index] || !isTypedNumber(text));
  return { columns, skipFirstLine: lines.length > 1 && kinds.some(Boolean) && isHeader };
}

/** What a column becomes, in words for a person. */
export function blockColumnWords(
  column: BlockColumn,
  definition: Pick<MethodDefinition, "dimensions">,
): string {
  switch (column.kind) {
    case "ignored":
      return "left out";
    case "label":
      return "label";
    case "note":
      return "note";
    case "stage-x":
      return "stage x";
    case "stage-y":
      return "stage y";
    case "stage-square":
      return "finder-slide square";
    case "reading": {
      const { dimension, edge, repeat } = column.cell;
      const known = definition.dimensions.find((one) => one.key === dimension);
      const name = known?.name ?? dimension;
      const again = repeat === 1 ? "" : `, ${known?.parts ? "part" : "reading"} ${repeat}`;
      return edge === "direct" ? `${name}, divisions${again}` : `${name}, ${edge} edge (div)${again}`;
    }
  }
}
