import type { ReadingEdge } from "#core/contract/records/sheet.ts";

/** One column of the entry grid; `key` is unique and stable, and with a row's id it names a cell. */
export type GridColumn =
  | { readonly kind: "ordinal" | "label" | "note"; readonly key: string }
  | {
      readonly kind: "reading";
      readonly key: string;
      readonly dimension: string;
      readonly edge: ReadingEdge;
    }
  | {
      readonly kind: "divisions" | "size" | "objective" | "flags";
      readonly key: string;
      readonly dimension: string;
    };

/** Ordinal, label; for each dimension left, right, divisions, size, objective, flags; note. */
export function columnsFor(dimensions: readonly { readonly key: string }[]): readonly GridColumn[] {
  return [
    { kind: "ordinal", key: "ordinal" },
    { kind: "label", key: "label" },
    ...dimensions.flatMap(({ key }): readonly GridColumn[] => [
      { kind: "reading", key: readingKey(key, "left"), dimension: key, edge: "left" },
      { kind: "reading", key: readingKey(key, "right"), dimension: key, edge: "right" },
      { kind: "divisions", key: `${key}.divisions`, dimension: key },
      { kind: "size", key: `${key}.size`, dimension: key },
      { kind: "objective", key: `${key}.objective`, dimension: key },
      { kind: "flags", key: `${key}.flags`, dimension: key },
    ]),
    { kind: "note", key: "note" },
  ];
}

export function readingKey(dimension: string, edge: ReadingEdge): string {
  return `${dimension}.${edge}`;
}

/** Whether text can be typed into cells of this column. */
export function isEditable(column: GridColumn): boolean {
  return column.kind === "reading" || column.kind === "label" || column.kind === "note";
}
