import { type Decimal, sumOf, ZERO } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";
import { type Percentile, requireShare } from "./percentile.ts";
import { memberAt, requireSample, sorted } from "./sample.ts";

/** What a particle counts for: itself (Dn), its surface d² (Da) or its volume d³ (Dv). */
export const PARTICLE_WEIGHTS = { number: 0, surface: 2, volume: 3 } as const;
export type ParticleWeight = keyof typeof PARTICLE_WEIGHTS;

/**
 * How a share of the total becomes a diameter. `step`: the smallest diameter at which the cumulative share reaches p.
 * `mid-rank`: each particle stands at the middle of its own share and the line between neighbours is followed (for
 * equal weights this is percentile type 5). Sources differ; a report must name the one it used.
 */
export const WEIGHTED_PERCENTILE_RULES = ["mid-rank", "step"] as const;
export type WeightedPercentileRule = (typeof WEIGHTED_PERCENTILE_RULES)[number];

interface Ranked {
  readonly diameters: readonly Decimal[];
  readonly weights: readonly Decimal[];
  readonly total: Decimal;
}

function ranked(diameters: readonly Decimal[], weight: ParticleWeight): Ranked {
  requireSample("diameters", diameters, 1);
  diameters.forEach((diameter, index) => {
    requirePositive(`diameters.${index}`, diameter);
  });
  const rising = sorted(diameters);
  const weights = rising.map((diameter) => diameter.pow(PARTICLE_WEIGHTS[weight]));
  return { diameters: rising, weights, total: sumOf(weights) };
}

function byStep({ diameters, weights, total }: Ranked, p: Decimal): Percentile {
  const wanted = total.times(p);
  let reached = ZERO;
  for (const [index, weight] of weights.entries()) {
    reached = reached.plus(weight);
    if (!reached.lessThan(wanted)) return { value: memberAt(diameters, index), clamped: false };
  }
  return { value: memberAt(diameters, diameters.length - 1), clamped: false };
}

function byMidRank({ diameters, weights, total }: Ranked, p: Decimal): Percentile {
  const wanted = total.times(p);
  let before = ZERO;
  let earlier: { readonly at: Decimal; readonly diameter: Decimal } | null = null;
  for (const [index, weight] of weights.entries()) {
    const at = before.plus(weight.div(2));
    const diameter = memberAt(diameters, index);
    if (!at.lessThan(wanted)) {
      if (earlier === null) return { value: diameter, clamped: at.greaterThan(wanted) };
      const part = wanted.minus(earlier.at).div(at.minus(earlier.at));
      return { value: earlier.diameter.plus(part.times(diameter.minus(earlier.diameter))), clamped: false };
    }
    before = before.plus(weight);
    earlier = { at, diameter };
  }
  return { value: memberAt(diameters, diameters.length - 1), clamped: true };
}

/**
 * Diameter below which a share p of the number, surface or volume of the particles lies (D10, D50, D90 with p 0.1, 0.5,
 * 0.9). Every particle is taken for a sphere of its measured diameter.
 * @throws InputError when the list is empty, a diameter is not positive or p is outside 0…1
 */
export function weightedPercentile(
  diameters: readonly Decimal[],
  weight: ParticleWeight,
  p: Decimal,
  rule: WeightedPercentileRule,
): Percentile {
  requireShare("p", p);
  const particles = ranked(diameters, weight);
  return rule === "step" ? byStep(particles, p) : byMidRank(particles, p);
}

/** Relative width of the volume distribution, (D90 − D10)/D50 by volume: a pure number. */
export function volumeSpan(d10: Decimal, d50: Decimal, d90: Decimal): Decimal {
  return d90.minus(d10).div(requirePositive("d50", d50));
}

/**
 * Share of the total weight that the largest particle alone carries. When it exceeds 1 − p, that one particle decides
 * the percentile p and the result must say so.
 */
export function largestParticleShare(diameters: readonly Decimal[], weight: ParticleWeight): Decimal {
  const { weights, total } = ranked(diameters, weight);
  return memberAt(weights, weights.length - 1).div(total);
}

/** True when one particle decides the percentile p (see `largestParticleShare`). */
export function decidedByLargest(diameters: readonly Decimal[], weight: ParticleWeight, p: Decimal): boolean {
  requireShare("p", p);
  return largestParticleShare(diameters, weight).plus(p).greaterThan(1);
}
