import { defocusWaves, type EdgeSpread, edgeSpread } from "./diffraction.ts";
import type { ViewOptics } from "./scene.ts";

/** Defects are drawn in steps of a twentieth of a wavelength, up to fifteen. */
const DEFECT_STEP = 0.05;
const MOST_DEFECT = 15;
/** How far the light of an object's edge is followed, in λ/NA beyond its blur. */
const REACH = 8;

/** Edge spreads once computed: they depend on the defect alone. */
const spreads = new Map<number, EdgeSpread>();

/** The edge spread out of focus by so many µm, and the wavefront's defect that it is drawn with, in wavelengths. */
export function spreadOf(
  outOfFocusUm: number,
  optics: ViewOptics,
): { readonly spread: EdgeSpread; readonly defect: number } {
  const waves = Math.abs(defocusWaves(outOfFocusUm, optics.na, optics.wavelengthUm));
  const step = Math.round(Math.min(MOST_DEFECT, waves) / DEFECT_STEP);
  const defect = step * DEFECT_STEP;
  const spread = spreads.get(step) ?? edgeSpread(defect);
  spreads.set(step, spread);
  return { spread, defect };
}

/** An edge as the objective shows it, averaged over a pixel across it. */
export interface BlurredEdge {
  /** The part that lies inside, at a distance outwards from the edge, µm: 1 far inside, ½ on it, 0 far outside. */
  readonly inside: (outwardsUm: number) => number;
  /** How far beyond the edge it is followed, µm. */
  readonly reachUm: number;
}

export function blurredEdge(outOfFocusUm: number, optics: ViewOptics, pixelUm: number): BlurredEdge {
  const { spread, defect } = spreadOf(outOfFocusUm, optics);
  const unit = optics.wavelengthUm / optics.na;
  const half = pixelUm / 2 / unit;
  const reachUm = (REACH + 3 * defect) * unit;
  return {
    reachUm,
    inside(outwardsUm) {
      if (outwardsUm > reachUm) return 0;
      if (outwardsUm < -reachUm) return 1;
      const u = -outwardsUm / unit;
      return (spread.integral(u + half) - spread.integral(u - half)) / (2 * half);
    },
  };
}
