import { chiSquaredQuantile, chiSquaredUpperP } from "../../statistics/distributions.ts";
import type { DispersionVerdict } from "../../vocabulary/counting.ts";
import { requireFields, requireLevel } from "./count-checks.ts";
import { type DispersionTails, exactDispersionTails } from "./exact-dispersion.ts";
import { fieldScatter } from "./field-scatter.ts";

export interface DispersionResult {
  readonly fields: number;
  readonly total: number;
  readonly mean: number;
  readonly variance: number;
  /** s²/x̄; null when nothing was counted. */
  readonly ratio: number | null;
  /** D = Σ(x − x̄)²/x̄; null when nothing was counted. */
  readonly index: number | null;
  readonly degreesOfFreedom: number;
  /** P(D at least as large) and P(D at most as large) for random scatter, and the two-sided p. */
  readonly upperP: number | null;
  readonly lowerP: number | null;
  readonly twoSidedP: number | null;
  /** Range of D expected of random scatter at the level, from χ². */
  readonly expectedLower: number;
  readonly expectedUpper: number;
  /** How the probabilities were found: χ², or all arrangements listed when objects and fields are few. */
  readonly by: "chi-squared" | "exact";
  readonly verdict: DispersionVerdict;
  /** What the verdict means, for a person. */
  readonly meaning: string;
}

const MEANING: Readonly<Record<DispersionVerdict, string>> = {
  clustered:
    "The objects lie in clusters: fields differ more than chance allows, so an interval from the total count alone is too narrow.",
  random: "The fields differ no more than chance allows.",
  regular:
    "The fields are more alike than chance allows: objects space themselves out, or the counting is not independent.",
  undecided: "Nothing was counted, so nothing can be said about how the objects lie.",
};

function chiSquaredTails(index: number, degreesOfFreedom: number): DispersionTails {
  const upperP = chiSquaredUpperP(index, degreesOfFreedom);
  return { upperP, lowerP: 1 - upperP };
}

function verdictOf(tails: DispersionTails, level: number): DispersionVerdict {
  const tail = (1 - level) / 2;
  if (tails.upperP < tail) return "clustered";
  return tails.lowerP < tail ? "regular" : "random";
}

/**
 * Index of dispersion of field counts, D = Σ(x − x̄)²/x̄, compared with χ² of n − 1 degrees of freedom (R. A. Fisher,
 * Statistical Methods for Research Workers, section 16; from memory). For a mean below 1 in fewer than 10 fields, whole
 * counts only, the probabilities are exact. An empty field is a field with 0.
 * @throws InputError for fewer than 2 fields
 */
export function dispersionTest(counts: readonly number[], level = 0.95): DispersionResult {
  requireFields(counts, 2);
  requireLevel(level);
  const { fields, total, mean, variance } = fieldScatter(counts);
  const degreesOfFreedom = fields - 1;
  const tail = (1 - level) / 2;
  const base = {
    fields,
    total,
    mean,
    variance: variance ?? 0,
    degreesOfFreedom,
    expectedLower: chiSquaredQuantile(tail, degreesOfFreedom),
    expectedUpper: chiSquaredQuantile(1 - tail, degreesOfFreedom),
  };
  if (total === 0) {
    const none = { ratio: null, index: null, upperP: null, lowerP: null, twoSidedP: null } as const;
    return { ...base, ...none, by: "chi-squared", verdict: "undecided", meaning: MEANING.undecided };
  }
  const ratio = base.variance / mean;
  const index = ratio * degreesOfFreedom;
  const few = mean < 1 && fields < 10 && counts.every(Number.isInteger);
  const tails = few ? exactDispersionTails(counts) : chiSquaredTails(index, degreesOfFreedom);
  const verdict = verdictOf(tails, level);
  return {
    ...base,
    ratio,
    index,
    ...tails,
    twoSidedP: Math.min(1, 2 * Math.min(tails.upperP, tails.lowerP)),
    by: few ? "exact" : "chi-squared",
    verdict,
    meaning: MEANING[verdict],
  };
}
