import type { CountField } from "#core/contract/records/count.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";

/** A counted field on the map: position in mm as typed and its place in a drawing of 0…1, y upwards. */
export interface MappedField {
  readonly field: number;
  readonly x: number;
  readonly y: number;
  readonly across: number;
  readonly up: number;
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
  if (placed.length === 0) return [];
  const lowX = Math.min(...placed.map(({ x }) => x));
  const lowY = Math.min(...placed.map(({ y }) => y));
  const width = Math.max(...placed.map(({ x }) => x)) - lowX;
  const height = Math.max(...placed.map(({ y }) => y)) - lowY;
  const side = Math.max(width, height) || 1;
  return placed.map((one) => ({
    ...one,
    across: (one.x - lowX + (side - width) / 2) / side,
    up: (one.y - lowY + (side - height) / 2) / side,
  }));
}
