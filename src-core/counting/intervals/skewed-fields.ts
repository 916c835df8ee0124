import { countedNoun } from "../../quantity/counted-noun.ts";
import type { DispersionResult } from "./dispersion-test.ts";

/** Limits in objects of the counted fields. */
export interface SkewedLimits {
  readonly lower: number;
  readonly upper: number;
}

/** From so many fields on the upper limit is stretched: two show so little that t alone is wide enough. */
const LEAST_STRETCHED = 3;

/**
 * Limits of a total whose fields differ more than Poisson. A few full fields among many empty ones make the mean of a
 * sample too small more often than too large, and s with it, so that x̄ ± t·s/√n misses the truth above. The upper limit
 * is therefore also taken on the scale of logarithms, T·exp(t·s√n/T · √(n/(n − 1))), where that reaches further; where
 * the scatter reaches down to nothing, the lower one is T·exp(−t·s√n/T), for something was counted. Our own rule, chosen by
 * simulation: `npm run bench -- count-coverage`.
 * @param halfWidth t·s·√n in objects
 * @param within the limits without it; `lower` 0 where the scatter reaches down to nothing
 */
export function skewedLimits(
  total: number,
  fields: number,
  halfWidth: number,
  within: SkewedLimits,
): SkewedLimits {
  const relative = halfWidth / total;
  const stretched =
    fields < LEAST_STRETCHED ? 0 : total * Math.exp(relative * Math.sqrt(fields / (fields - 1)));
  const lower = relative < 1 ? within.lower : total * Math.exp(-relative);
  return {
    lower: within.lower > 0 ? Math.min(within.lower, lower) : lower,
    upper: Math.max(within.upper, stretched),
  };
}

/** Exponent k of a negative binomial by its moments, x̄²/(s² − x̄): the smaller, the more the fields differ; null: they do not. */
export function exponentOfFields({
  mean,
  variance,
}: Pick<DispersionResult, "mean" | "variance">): number | null {
  return variance > mean && mean > 0 ? mean ** 2 / (variance - mean) : null;
}

/** At and below this exponent the fields differ so much that ± U holds the truth too seldom; and a stronger degree. */
const STRONG = 1;
const VERY_STRONG = 0.3;

/**
 * Of 100 counts whose fields follow a negative binomial of exponent 0.5, and of 0.2, how many have the true density
 * within ± U, and within the limits; up to so many fields. Simulated: `npm run bench -- count-coverage`.
 */
const HELD = [
  { upTo: 3, strong: { byU: 83, byLimits: 89 }, veryStrong: { byU: 75, byLimits: 87 } },
  { upTo: 7, strong: { byU: 83, byLimits: 94 }, veryStrong: { byU: 73, byLimits: 89 } },
  { upTo: 14, strong: { byU: 86, byLimits: 94 }, veryStrong: { byU: 77, byLimits: 89 } },
  { upTo: 34, strong: { byU: 89, byLimits: 95 }, veryStrong: { byU: 83, byLimits: 92 } },
  { upTo: 99, strong: { byU: 92, byLimits: 95 }, veryStrong: { byU: 89, byLimits: 94 } },
] as const;

/** What fields that differ strongly leave to be known, with the share measured by simulation; null for all others. */
export function skewedCaution(dispersion: DispersionResult): string | null {
  const { fields, verdict, ratio } = dispersion;
  const exponent = exponentOfFields(dispersion);
  if (verdict !== "clustered" || ratio === null || exponent === null || exponent > STRONG) return null;
  const held = HELD.find(({ upTo }) => fields <= upTo);
  if (!held) return null;
  const { byU, byLimits } = exponent <= VERY_STRONG ? held.veryStrong : held.strong;
  return `The fields differ so strongly (s²/x̄ = ${ratio.toPrecision(2)}) that ± U from ${countedNoun(fields, "field")} would hold the true density in about ${byU} of 100 counts, not in 95; its limits hold it in about ${byLimits}. More fields help, more objects per field do not.`;
}
