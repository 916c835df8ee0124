import type { MethodDefinition, MethodDimension } from "../contract/records/method.ts";
import type { Measurement, ReadingCell, RepeatReading } from "../contract/records/sheet.ts";
import type { Decimal } from "../quantity/decimal.ts";
import { readDecimal } from "../quantity/decimal-text.ts";
import type { EntryKind } from "../vocabulary/entry.ts";

type Readings = Pick<Measurement, "left" | "right" | "direct" | "repeats">;

/** How often a dimension is read: its parts, else the readings whose mean is its size. */
export function readingsAsked({ parts }: Pick<MethodDimension, "parts">, repeats: number): number {
  return parts ?? repeats;
}

/** Whether the readings of a dimension are its parts, which add up; otherwise their mean counts. */
export function isInParts({ dimensions }: Pick<MethodDefinition, "dimensions">, dimension: string): boolean {
  return dimensions.some(({ key, parts }) => key === dimension && parts !== undefined);
}

/** All readings of a dimension in order of their number; the first is there only when something of it was taken. */
export function readingsOf({ left, right, direct, repeats }: Readings): RepeatReading[] {
  const isBegun = left !== null || right !== null || direct !== null;
  return isBegun ? [{ number: 1, left, right, direct }, ...repeats] : [...repeats];
}

/** The text of one cell of a dimension; null when nothing was taken there. */
export function readingAt(
  measurement: Readings | undefined,
  cell: Omit<ReadingCell, "dimension">,
): string | null {
  if (!measurement) return null;
  return readingsOf(measurement).find((one) => one.number === cell.repeat)?.[cell.edge] ?? null;
}

/** The kind of reading that a cell belongs to. */
export function entryOfEdge(edge: ReadingCell["edge"]): EntryKind {
  return edge === "direct" ? "direct" : "two-edges";
}

const NOTHING_READ: Omit<RepeatReading, "number"> = { left: null, right: null, direct: null };

/** The readings with one cell typed; the rest stay. */
export function withReading(
  before: Readings | undefined,
  cell: Omit<ReadingCell, "dimension">,
  typed: string,
): Readings {
  const { left, right, direct, repeats } = before ?? { ...NOTHING_READ, repeats: [] };
  if (cell.repeat === 1) return { left, right, direct, repeats, [cell.edge]: typed };
  const there = repeats.find((one) => one.number === cell.repeat) ?? { number: cell.repeat, ...NOTHING_READ };
  const changed = { ...there, [cell.edge]: typed };
  const others = repeats.filter((one) => one.number !== cell.repeat);
  return { left, right, direct, repeats: [...others, changed].sort((a, b) => a.number - b.number) };
}

/** A reading with both of its ends, div. A direct one begins at the line 0. */
export interface CompleteReading {
  readonly number: number;
  readonly left: Decimal;
  readonly right: Decimal;
}

function completeOf({ number, left, right, direct }: RepeatReading): CompleteReading | null {
  const field = number === 1 ? "" : `repeats.${number}.`;
  if (direct !== null) {
    const right = readDecimal(`${field}direct`, direct).value;
    return { number, left: right.minus(right), right };
  }
  if (left === null || right === null) return null;
  return {
    number,
    left: readDecimal(`${field}left`, left).value,
    right: readDecimal(`${field}right`, right).value,
  };
}

/**
 * The readings that can be converted, in order; half-taken ones are left out.
 * @throws InputError `left`, `right`, `direct` or `repeats.N.left` … for text that is no number
 */
export function completeReadings(readings: readonly RepeatReading[]): CompleteReading[] {
  return readings.map(completeOf).filter((one) => one !== null);
}
