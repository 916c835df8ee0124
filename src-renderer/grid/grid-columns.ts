import type { MethodDimension } from "#core/contract/records/method.ts";
import type { ReadingCell, ReadingEdge, SpecimenRow } from "#core/contract/records/sheet.ts";
import { readingsAsked } from "#core/measurement/readings.ts";
import type { EntryKind } from "#core/vocabulary/entry.ts";

/** One column of the entry grid; `key` is unique and stable, and with a row's id it names a cell. */
export type GridColumn =
  | { readonly kind: "ordinal"; readonly key: string }
  | { readonly kind: "label" | "note"; readonly key: string }
  /** Where the specimen lies: by one vernier of the mechanical stage, or by the square of a finder slide. */
  | {
      readonly kind: "stage";
      readonly key: "stage.x" | "stage.y" | "stage.square";
      readonly axis: "x" | "y" | "square";
    }
  | {
      readonly kind: "reading";
      readonly key: string;
      readonly dimension: string;
      readonly edge: ReadingEdge;
      /** Which reading of the dimension, 1… */
      readonly repeat: number;
    }
  | {
      readonly kind: "divisions" | "size" | "objective" | "flags";
      readonly key: string;
      readonly dimension: string;
    };

/** What a method says about the cells of a row. */
export interface EntryPlan {
  readonly dimensions: readonly Pick<MethodDimension, "key" | "parts">[];
  readonly entry: EntryKind;
  /** Readings of each dimension that is read whole, 1… */
  readonly repeats: number;
  /** Whether stage coordinates are asked for. */
  readonly stage?: boolean;
  /** Whether the square of a finder slide is asked for. */
  readonly square?: boolean;
}

const EDGES: Readonly<Record<EntryKind, readonly ReadingEdge[]>> = {
  "two-edges": ["left", "right"],
  direct: ["direct"],
};

function readingColumns(
  dimension: EntryPlan["dimensions"][number],
  { entry, repeats }: EntryPlan,
): readonly GridColumn[] {
  return Array.from({ length: readingsAsked(dimension, repeats) }, (_, at) => at + 1).flatMap((repeat) =>
    EDGES[entry].map((edge): GridColumn => {
      const cell = { dimension: dimension.key, edge, repeat };
      return { kind: "reading", key: readingKey(cell), ...cell };
    }),
  );
}

const STAGE: readonly GridColumn[] = [
  { kind: "stage", key: "stage.x", axis: "x" },
  { kind: "stage", key: "stage.y", axis: "y" },
];

const SQUARE: GridColumn = { kind: "stage", key: "stage.square", axis: "square" };

/** Ordinal, label; for each dimension its readings, divisions, size, objective, flags; stage where asked for; note. */
export function columnsFor(plan: EntryPlan): readonly GridColumn[] {
  return [
    { kind: "ordinal", key: "ordinal" },
    { kind: "label", key: "label" },
    ...plan.dimensions.flatMap((dimension): readonly GridColumn[] => {
      const { key } = dimension;
      return [
        ...readingColumns(dimension, plan),
        { kind: "divisions", key: `${key}.divisions`, dimension: key },
        { kind: "size", key: `${key}.size`, dimension: key },
        { kind: "objective", key: `${key}.objective`, dimension: key },
        { kind: "flags", key: `${key}.flags`, dimension: key },
      ];
    }),
    ...(plan.stage ? STAGE : []),
    ...(plan.square ? [SQUARE] : []),
    { kind: "note", key: "note" },
  ];
}

/** The key of the column that holds a reading: `polar.left`, `polar.right.2` for the second reading. */
export function readingKey({ dimension, edge, repeat }: ReadingCell): string {
  return repeat === 1 ? `${dimension}.${edge}` : `${dimension}.${edge}.${repeat}`;
}

/** The cell of the sheet that a column of readings holds. */
export function cellOf({ dimension, edge, repeat }: Extract<GridColumn, { kind: "reading" }>): ReadingCell {
  return { dimension, edge, repeat };
}

/** Whether text can be typed into cells of this column. */
export function isEditable(column: GridColumn): boolean {
  return isInLoop(column) || column.kind === "label" || column.kind === "note";
}

/**
 * What a column is in one row. A reading that was taken directly on a sheet read at two edges, as rows of another program
 * may have been, stands in its divisions: there it is corrected, as any reading is in its own column.
 */
export function columnInRow(
  column: GridColumn,
  record: SpecimenRow | undefined,
  columns: readonly GridColumn[],
): GridColumn {
  if (column.kind !== "divisions") return column;
  const { dimension } = column;
  const measured = record?.measurements.find((one) => one.dimension === dimension);
  const isRead = (one: GridColumn): boolean =>
    one.kind === "reading" && one.dimension === dimension && one.edge === "direct";
  if (measured?.entry !== "direct" || measured.repeats.length > 0 || columns.some(isRead)) return column;
  const cell = { dimension, edge: "direct", repeat: 1 } as const;
  return { kind: "reading", key: readingKey(cell), ...cell };
}

/** Where text of a cell stands: a reading taken directly where edges are read has no column of its own. */
export function columnOfKey(columns: readonly GridColumn[], key: string): number {
  const own = columns.findIndex((column) => column.key === key);
  return own >= 0
    ? own
    : columns.findIndex((column) => column.key === key.replace(/\.direct$/, ".divisions"));
}

/** Columns that take a number: of the rest, letters land where they are typed. */
export function takesNumber(column: GridColumn | undefined): boolean {
  return column?.kind === "reading" || (column?.kind === "stage" && column.axis !== "square");
}

/** Columns that Enter goes through on its way to the next specimen. */
export function isInLoop(column: GridColumn | undefined): boolean {
  return column?.kind === "reading" || column?.kind === "stage";
}
