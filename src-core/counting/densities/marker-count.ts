import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { InputError, requireNotNegative, requirePositive } from "../../quantity/input-error.ts";
import { quotientOf, type UncertainProduct } from "../../quantity/uncertain-product.ts";
import { sumOfObjects } from "../inputs/counting-unit.ts";
import { requireWholeCount } from "../intervals/count-checks.ts";
import type { CountEvidence } from "../intervals/count-evidence.ts";
import { proportionInterval } from "../intervals/proportion-interval.ts";

/** Tablets of marker spores added, as the label of the batch says. */
export interface MarkerTablets {
  readonly tablets: number;
  /** Spores in one tablet and the standard deviation between tablets. */
  readonly sporesPerTablet: Decimal;
  readonly deviation: Decimal;
}

/** Below this many marker spores the result rests on too little. From a published pollen-trap protocol. */
export const FEWEST_MARKER_SPORES = 20;

export interface MarkerFactor {
  /** Grains in the unit of sample that one counted grain stands for. */
  readonly perObject: UncertainProduct;
  /** Words for a person; null when the marker count is large enough. */
  readonly warning: string | null;
}

/**
 * What one counted grain stands for when marker spores were added: added/(marker counted · sample size). Relative doubt
 * from the tablets s/(X·√n), the marker count 1/√m and the sample size; the grains' own 1/√c comes with the count.
 * J. Stockmarr, Pollen et Spores 13 (1971) 615; from memory.
 * @param sample volume, mass or area of sample, e.g. in cm³
 * @throws InputError when no marker spore was counted or a number is out of range
 */
export function markerFactor(
  markerCounted: number,
  added: MarkerTablets,
  sample: UncertainProduct,
): MarkerFactor {
  requireWholeCount("markerCounted", markerCounted);
  if (markerCounted === 0) {
    throw new InputError(
      "markerCounted",
      "must be 1 or more: without marker spores there is no concentration",
    );
  }
  requireWholeCount("tablets", added.tablets);
  if (added.tablets === 0) throw new InputError("tablets", "must be 1 or more");
  requirePositive("sporesPerTablet", added.sporesPerTablet);
  requireNotNegative("deviation", added.deviation);
  const tablets = decimal(added.tablets);
  const marker = decimal(markerCounted);
  const grains: UncertainProduct = {
    value: added.sporesPerTablet.times(tablets).div(marker),
    unit: "grains",
    components: [
      {
        key: "tablets",
        name: "spores in the tablets",
        relative: added.deviation.div(added.sporesPerTablet).div(tablets.sqrt()),
      },
      { key: "marker", name: "count of marker spores", relative: marker.sqrt().div(marker) },
    ],
  };
  const few = markerCounted < FEWEST_MARKER_SPORES;
  return {
    perObject: quotientOf(grains, sample, `grains/${sample.unit}`),
    warning: few
      ? `Only ${markerCounted} marker spores: count on to at least ${FEWEST_MARKER_SPORES}.`
      : null,
  };
}

/**
 * Limits of the ratio of objects to marker spores, both counted at random: of all that was counted, objects and markers,
 * the objects' share p is binomial, and p/(1 − p) is the ratio. L. J. Maher, Review of Palaeobotany and Palynology 32
 * (1981) 153; from memory, with 1.96 of the normal distribution. The tablets' doubt and that of the sample are not in it.
 * @throws InputError when no marker spore was counted, or the counts are not whole or half
 */
export function markerRatioLimits(
  objects: number,
  marker: number,
  level = 0.95,
): { readonly lower: number; readonly upper: number } {
  const { lower, upper } = proportionInterval(objects, sumOfObjects([objects, marker]), "wilson", level);
  if (marker === 0) throw new InputError("markerCounted", "must be 1 or more: there is no ratio without it");
  return { lower: lower / (1 - lower), upper: upper / (1 - upper) };
}

/**
 * Where no object was seen beside m marker spores: 95 % one-sided, m·(0.05^(−1/m) − 1) objects, since (1 − p)^m = 0.05. It
 * nears −ln 0.05 = 2.996 with many of them.
 */
export function noneBesideMarker(marker: number): number {
  return marker * (0.05 ** (-1 / marker) - 1);
}

/** The evidence of a count by marker spores: limits that hold the doubt of both counts, in objects. */
export function besideMarker(evidence: CountEvidence, marker: number): CountEvidence {
  const { lower, upper } = markerRatioLimits(evidence.total, marker, evidence.level);
  return {
    ...evidence,
    lower: lower * marker,
    upper: upper * marker,
    noneCounted: noneBesideMarker(marker),
    reason: "From the counts of objects and of marker spores, both at random.",
  };
}
