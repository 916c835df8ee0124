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
 * Mean and variance of field counts. Sums of whole and half counts are exact in binary, so only the last divisions
 * round.
 */
export function fieldScatter(counts: readonly number[]): FieldScatter {
  requireFields(counts, 1);
  const fields = counts.length;
  let total = 0;
  let squares = 0;
  for (const count of counts) {
    total += count;
    squares += count * count;
  }
  const spread = fields * squares - total * total;
  return {
    fields,
    total,
    mean: total / fields,
    variance: fields < 2 ? null : spread / (fields * (fields - 1)),
  };
}
