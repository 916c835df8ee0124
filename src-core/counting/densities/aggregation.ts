import { requireFields } from "../intervals/count-checks.ts";
import { fieldScatter } from "../intervals/field-scatter.ts";

/**
 * Morisita's index n·Σx(x − 1)/(T(T − 1)): 1 for random scatter, more when clustered, less when even. Null when fewer
 * than two objects were counted. M. Morisita (1959); from memory.
 */
export function morisitaIndex(counts: readonly number[]): number | null {
  requireFields(counts, 2);
  const { fields, total } = fieldScatter(counts);
  if (total <= 1) return null;
  const pairs = counts.reduce((sum, count) => sum + count * (count - 1), 0);
  return (fields * pairs) / (total * (total - 1));
}

export interface NegativeBinomialK {
  /** (x̄² − s²/n)/(s² − x̄). */
  readonly k: number;
  /** x̄²/(s² − x̄), without the correction for the sampled mean. */
  readonly simple: number;
}

/**
 * Exponent k of the negative binomial by moments; the smaller, the more clustered. Null when the variance does not
 * exceed the mean, because then there is no clustering to describe.
 */
export function negativeBinomialK(counts: readonly number[]): NegativeBinomialK | null {
  requireFields(counts, 2);
  const { fields, mean, variance } = fieldScatter(counts);
  const excess = (variance ?? 0) - mean;
  if (excess <= 0) return null;
  return { k: (mean * mean - (variance ?? 0) / fields) / excess, simple: (mean * mean) / excess };
}
