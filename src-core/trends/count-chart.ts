import { Decimal, decimal, sumOf, ZERO } from "../quantity/decimal.ts";
import { InputError, requireNotNegative } from "../quantity/input-error.ts";
import { chiSquaredUpperP } from "../statistics/distributions.ts";
import type { Interval } from "../statistics/interval.ts";

/** One count of a series: what was found in how many equal areas, fields or volumes. */
export interface CountedSample {
  readonly objects: Decimal;
  readonly areas: number;
}

export interface ChartedCount {
  /** Objects per area. */
  readonly rate: Decimal;
  readonly limits: Interval;
  readonly isOutside: boolean;
}

export interface CountChart {
  /** All objects over all areas. */
  readonly centre: Decimal;
  readonly points: readonly ChartedCount[];
}

/** What 3σ leave on either side of a normal distribution. */
const RARE = 0.00135;

/** By Poisson's own tails: for a few objects 3√ is too narrow above, and one series in eight would be called wrong. */
function isRare(objects: Decimal, mean: Decimal): boolean {
  const [x, doubled] = [objects.toNumber(), mean.times(2).toNumber()];
  const atMost = chiSquaredUpperP(doubled, 2 * x + 2);
  const atLeast = x === 0 ? 1 : 1 - chiSquaredUpperP(doubled, 2 * x);
  return Math.min(atMost, atLeast) < RARE;
}

/**
 * Chart of counts: ū ± 3√(ū/nᵢ) per area, the lower limit never below zero; over equal areas that is the chart
 * c̄ ± 3√c̄ of NIST/SEMATECH e-Handbook 6.3.3.1, over unequal ones the u chart (from memory, any text of quality control).
 * A count is outside when it lies beyond them
 * and Poisson's own tail is as rare as 3σ. Only for counts that follow Poisson's law; clustered counts break the limits without anything being wrong.
 * @throws InputError `counts` for an empty list, `counts.N` for objects below zero or areas that are no whole number
 */
export function countChart(samples: readonly CountedSample[]): CountChart {
  if (samples.length === 0) throw new InputError("counts", "must not be empty");
  samples.forEach(({ objects, areas }, i) => {
    requireNotNegative(`counts.${i}`, objects);
    if (!Number.isSafeInteger(areas) || areas < 1) {
      throw new InputError(`counts.${i}`, "must have a whole number of areas, 1 or more");
    }
  });
  const areas = samples.reduce((sum, sample) => sum + sample.areas, 0);
  const centre = sumOf(samples.map(({ objects }) => objects)).div(areas);
  const points = samples.map((sample) => {
    const rate = sample.objects.div(sample.areas);
    const half = decimal(3).times(centre.div(sample.areas).sqrt());
    const limits = { lower: Decimal.max(ZERO, centre.minus(half)), upper: centre.plus(half) };
    const isBeyond = rate.greaterThan(limits.upper) || rate.lessThan(limits.lower);
    return { rate, limits, isOutside: isBeyond && isRare(sample.objects, centre.times(sample.areas)) };
  });
  return { centre, points };
}
