import { type Decimal, sumOf, ZERO } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";
import { type Percentile, requireShare } from "./percentile.ts";
import { memberAt, requireSample, sorted } from "./sample.ts";

/** Particles in rising order with d³ of each: its volume but for a factor that all spheres share. */
export interface ByVolume {
  readonly diameters: readonly Decimal[];
  readonly volumes: readonly Decimal[];
  readonly total: Decimal;
}

/** @throws InputError when the list is empty or a diameter is not positive */
export function byVolume(diameters: readonly Decimal[]): ByVolume {
  requireSample("diameters", diameters, 1);
  diameters.forEach((diameter, index) => {
    requirePositive(`diameters.${index}`, diameter);
  });
  const rising = sorted(diameters);
  const volumes = rising.map((diameter) => diameter.pow(3));
  return { diameters: rising, volumes, total: sumOf(volumes) };
}

/**
 * Diameter below which a share p of the volume lies (Dv50 with p 0.5), every particle taken for a sphere. Each particle
 * stands at the middle of its own share and the line between neighbours is followed: with equal volumes this is
 * percentile type 5 of Hyndman and Fan 1996; its use with volumes: common practice, no source.
 * @returns `clamped` where p lies beyond the middle of the smallest or the largest particle
 * @throws InputError when p is outside 0…1
 */
export function volumePercentile({ diameters, volumes, total }: ByVolume, p: Decimal): Percentile {
  requireShare("p", p);
  const wanted = total.times(p);
  let before = ZERO;
  let earlier: { readonly at: Decimal; readonly diameter: Decimal } | null = null;
  for (const [index, volume] of volumes.entries()) {
    const at = before.plus(volume.div(2));
    const diameter = memberAt(diameters, index);
    if (!at.lessThan(wanted)) {
      if (earlier === null) return { value: diameter, clamped: at.greaterThan(wanted) };
      const part = wanted.minus(earlier.at).div(at.minus(earlier.at));
      return { value: earlier.diameter.plus(part.times(diameter.minus(earlier.diameter))), clamped: false };
    }
    before = before.plus(volume);
    earlier = { at, diameter };
  }
  return { value: memberAt(diameters, diameters.length - 1), clamped: true };
}

/** Share of the volume that the largest particle alone carries; above 1 − p it decides the percentile p. */
export function largestShare({ volumes, total }: ByVolume): Decimal {
  return memberAt(volumes, volumes.length - 1).div(total);
}
