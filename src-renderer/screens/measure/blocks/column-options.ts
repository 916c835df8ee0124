import type { BlockColumn } from "#core/contract/records/block.ts";
import type { MethodDefinition } from "#core/contract/records/method.ts";
import type { ReadingCell } from "#core/contract/records/sheet.ts";
import { blockColumnWords } from "#core/measurement/block-columns.ts";
import { readingsAsked } from "#core/measurement/readings.ts";
import { BLOCK_COLUMN_KINDS } from "#core/vocabulary/block-column.ts";

/** One thing that a pasted column may become. */
export interface ColumnOption {
  readonly value: string;
  readonly words: string;
  readonly column: BlockColumn;
}

export function optionValue(column: BlockColumn): string {
  if (column.kind !== "reading") return column.kind;
  const { dimension, edge, repeat } = column.cell;
  return `${dimension}/${edge}/${repeat}`;
}

/** Everything a pasted column may become under a method: its readings first, edges and divisions. */
export function columnOptions(
  definition: Pick<MethodDefinition, "dimensions" | "repeats">,
): readonly ColumnOption[] {
  const cells = definition.dimensions.flatMap((dimension) =>
    Array.from({ length: readingsAsked(dimension, definition.repeats) }, (_, at) => at + 1).flatMap(
      (repeat) =>
        (["left", "right", "direct"] as const).map(
          (edge): ReadingCell => ({ dimension: dimension.key, edge, repeat }),
        ),
    ),
  );
  const columns: readonly BlockColumn[] = [
    ...cells.map((cell): BlockColumn => ({ kind: "reading", cell })),
    ...BLOCK_COLUMN_KINDS.map((kind): BlockColumn => ({ kind })),
  ];
  return columns.map((column) => ({
    value: optionValue(column),
    words: blockColumnWords(column, definition),
    column,
  }));
}
