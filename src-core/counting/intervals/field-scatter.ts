import { sumOfObjects } from "../inputs/counting-unit.ts";
import { requireFields } from "./count-checks.ts";

/** Plain statistics of the counts of the fields of one session. */
export interface FieldScatter {
  readonly fields: number;
  readonly total: number;
  /** Objects per field. */
  readonly mean: number;
  /** s² with n − 1; null for a single field. */
  readonly variance: number | null;
}

/**
 * Mean and variance of field counts, reckoned in whole thousandths, which are exact in binary: only the last divisions
 * round.
 */
export function fieldScatter(counts: readonly number[]): FieldScatter {
  requireFields(counts, 1);
  const fields = counts.length;
  const total = sumOfObjects(counts);
  const thousandths = counts.map((count) => Math.round(count * 1000));
  const sum = thousandths.reduce((before, count) => before + count, 0);
  const squares = thousandths.reduce((before, count) => before + count * count, 0);
  // Above 2⁵³ the products round, and equal fields could differ by less than nothing.
  const spread = Math.max(0, fields * squares - sum * sum);
  return {
    fields,
    total,
    mean: total / fields,
    variance: fields < 2 ? null : spread / (1e6 * fields * (fields - 1)),
  };
}
