import type { PlacedRow } from "#core/contract/records/sheet.ts";
import { type MappedPoint, mappedPoints, type StagePoint } from "#core/drawing/position-map.ts";
import { columnOfSquare, readFinderSquare } from "#core/measurement/finder-square.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";

/** A row on a map. */
export interface MappedRow extends StagePoint, MappedPoint {
  readonly row: PlacedRow;
}

/** One map of rows, and what stands at the ends of its edges. */
export interface RowMap {
  readonly kind: "verniers" | "squares";
  readonly rows: readonly MappedRow[];
  readonly ends: { readonly across: readonly [string, string]; readonly up: readonly [string, string] };
}

function ends<P extends StagePoint>(
  points: readonly P[],
  by: "x" | "y",
  words: (point: P) => string,
): readonly [string, string] {
  const sorted = points.toSorted((a, b) => a[by] - b[by]);
  const [first, last] = [sorted[0], sorted.at(-1)];
  return first && last ? [words(first), words(last)] : ["", ""];
}

/** Rows by their vernier readings; a row with one coordinate alone has no place on a map. */
function byVerniers(rows: readonly PlacedRow[]): RowMap {
  const points = rows.flatMap((row) => {
    const { x, y } = row.stage;
    if (x === "" || y === "") return [];
    const read = (axis: "x" | "y"): number => readDecimal(axis, row.stage[axis]).value.toNumber();
    return [{ row, x: read("x"), y: read("y") }];
  });
  return {
    kind: "verniers",
    rows: mappedPoints(points),
    ends: {
      across: ends(points, "x", ({ row }) => `x ${row.stage.x}`),
      up: ends(points, "y", ({ row }) => `y ${row.stage.y}`),
    },
  };
}

/** Rows by their squares: letters from left to right, numbers from above. */
function bySquares(rows: readonly PlacedRow[]): RowMap {
  const points = rows.flatMap((row) => {
    if (row.stage.square === undefined) return [];
    const square = readFinderSquare("square", row.stage.square);
    return [{ row, square, x: columnOfSquare(square), y: -square.number }];
  });
  return {
    kind: "squares",
    rows: mappedPoints(points),
    ends: {
      across: ends(points, "x", ({ square }) => square.letters),
      up: ends(points, "y", ({ square }) => String(square.number)),
    },
  };
}

/** The maps that the positions of some rows give, each with at least one row. */
export function rowMaps(rows: readonly PlacedRow[]): readonly RowMap[] {
  return [byVerniers(rows), bySquares(rows)].filter((map) => map.rows.length > 0);
}
