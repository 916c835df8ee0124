import type { CountField } from "#core/contract/records/count.ts";
import { type MappedPoint, mappedPoints, type StagePoint } from "#core/drawing/position-map.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";

/** A counted field on the map: position in mm and its place in the drawing. */
export interface MappedField extends StagePoint, MappedPoint {
  readonly field: number;
}

function read(typed: string): number | null {
  try {
    return readDecimal("position", typed).value.toNumber();
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** Fields whose position was written down, to one scale in both directions. */
export function mappedFields(
  fields: readonly Pick<CountField, "ordinal" | "position">[],
): readonly MappedField[] {
  const placed = fields.flatMap(({ ordinal, position }) => {
    const x = position && read(position.x);
    const y = position && read(position.y);
    return typeof x === "number" && typeof y === "number" ? [{ field: ordinal, x, y }] : [];
  });
  return mappedPoints(placed);
}
