import { studentQuantile } from "../../statistics/distributions.ts";
import { requireFields, requireLevel } from "./count-checks.ts";
import { fieldScatter } from "./field-scatter.ts";

export interface BetweenFieldInterval {
  /** Objects per field. */
  readonly mean: number;
  /** s/√n, objects per field. */
  readonly standardError: number;
  readonly halfWidth: number;
  readonly lower: number;
  readonly upper: number;
  /** Half-width over the mean; null when nothing was counted. */
  readonly relativeHalfWidth: number | null;
  readonly level: number;
}

/**
 * Interval of the mean count per field from the scatter between fields, x̄ ± t·s/√n with n − 1 degrees of freedom. It
 * needs no assumption about how objects lie. A lower limit below zero is given as zero.
 * @throws InputError for fewer than 2 fields
 */
export function betweenFieldInterval(counts: readonly number[], level = 0.95): BetweenFieldInterval {
  requireFields(counts, 2);
  requireLevel(level);
  const { fields, mean, variance } = fieldScatter(counts);
  const standardError = Math.sqrt((variance ?? 0) / fields);
  const halfWidth = studentQuantile(1 - (1 - level) / 2, fields - 1) * standardError;
  return {
    mean,
    standardError,
    halfWidth,
    lower: Math.max(0, mean - halfWidth),
    upper: mean + halfWidth,
    relativeHalfWidth: mean === 0 ? null : halfWidth / mean,
    level,
  };
}
