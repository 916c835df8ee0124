import type { StagePosition } from "#core/contract/records/sheet.ts";
import { type MappedPoint, mappedPoints, type StagePoint } from "#core/drawing/position-map.ts";
import { columnOfSquare, readFinderSquare } from "#core/measurement/finder-square.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";

/** A row of a sheet or a field of a count whose place is known. */
interface Placed {
  readonly stage: StagePosition;
}

/** One of them on a map. */
export interface MappedPlace<P extends Placed> extends StagePoint, MappedPoint {
  readonly of: P;
}

/** One map, and what stands at the ends of its edges. */
export interface StageMap<P extends Placed> {
  readonly kind: "verniers" | "squares";
  readonly places: readonly MappedPlace<P>[];
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

/** What earlier programs took without looking may be no number, and has no place on a map. */
function numberOf(typed: string): number | null {
  try {
    return readDecimal("position", typed).value.toNumber();
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** By their vernier readings; one with one coordinate alone has no place on a map. */
function byVerniers<P extends Placed>(placed: readonly P[]): StageMap<P> {
  const points = placed.flatMap((of) => {
    const [x, y] = [numberOf(of.stage.x), numberOf(of.stage.y)];
    return x === null || y === null ? [] : [{ of, x, y }];
  });
  return {
    kind: "verniers",
    places: mappedPoints(points),
    ends: {
      across: ends(points, "x", ({ of }) => `x ${of.stage.x}`),
      up: ends(points, "y", ({ of }) => `y ${of.stage.y}`),
    },
  };
}

/** By their squares: letters from left to right, numbers from above. */
function bySquares<P extends Placed>(placed: readonly P[]): StageMap<P> {
  const points = placed.flatMap((of) => {
    if (of.stage.square === undefined) return [];
    const square = readFinderSquare("square", of.stage.square);
    return [{ of, square, x: columnOfSquare(square), y: -square.number }];
  });
  return {
    kind: "squares",
    places: mappedPoints(points),
    ends: {
      across: ends(points, "x", ({ square }) => square.letters),
      up: ends(points, "y", ({ square }) => String(square.number)),
    },
  };
}

/** The maps that some positions give, each with at least one place. */
export function stageMaps<P extends Placed>(placed: readonly P[]): readonly StageMap<P>[] {
  return [byVerniers(placed), bySquares(placed)].filter((map) => map.places.length > 0);
}
