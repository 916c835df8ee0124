import type { Decimal } from "../quantity/decimal.ts";
import { memberAt } from "../statistics/sample.ts";

export interface ReferencedPoint {
  readonly day: Decimal;
  /** Micrometer and certificate. */
  readonly reference: string;
}

export interface ReferenceChange {
  /** Place, from 0, of the first calibration with the new reference. */
  readonly index: number;
  readonly day: Decimal;
}

/**
 * Where a train's reference was changed for good: the new one was never used before, the one before is not used again,
 * so that two micrometers used in turn do not cut the history into pieces.
 * @param points in order of time
 */
export function referenceChanges(points: readonly ReferencedPoint[]): ReferenceChange[] {
  const lastUse = new Map(points.map(({ reference }, index) => [reference, index]));
  const firstUse = new Map(points.map(({ reference }, index) => [reference, index] as const).toReversed());
  return points.flatMap(({ reference, day }, index) => {
    if (index === 0) return [];
    const before = memberAt(points, index - 1).reference;
    const isNew = firstUse.get(reference) === index;
    return isNew && lastUse.get(before) === index - 1 ? [{ index, day }] : [];
  });
}
