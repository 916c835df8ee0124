/**
 * The image of an edge through a circular pupil in incoherent light, with defocus. Lengths are in units of λ/NA, in
 * which every objective has the same picture; spatial frequencies s run from 0 to 1, 1 being the cut-off 2·NA/λ.
 */

const PUPIL_STEPS = 96;
const FREQUENCY_STEPS = 256;
/** Table steps for one unit of length. */
const STEPS = 50;

/**
 * Optical transfer of a circular pupil with defocus. In focus it is (2/π)(arccos s − s√(1 − s²)); with the defect
 * W₂₀ in wavelengths it is (4/π)∫₀^(1−s) √(1 − (x + s)²) cos(8π·W₂₀·s·x) dx. H. H. Hopkins: The frequency response of a
 * defocused optical system (1955), Proc. R. Soc. A 231, 91: from memory; the integral is the overlap of two pupils.
 * @param s frequency as a part of the cut-off, 0 to 1
 * @param defect wavefront defect at the pupil's edge, in wavelengths
 */
export function opticalTransfer(s: number, defect: number): number {
  if (s >= 1) return 0;
  if (defect === 0) return (2 / Math.PI) * (Math.acos(s) - s * Math.sqrt(1 - s * s));
  // x + s = sin φ takes the root's end away: √(1 − (x + s)²) dx = cos² φ dφ.
  const from = Math.asin(s);
  const step = (Math.PI / 2 - from) / PUPIL_STEPS;
  let sum = 0;
  for (let index = 0; index < PUPIL_STEPS; index += 1) {
    const angle = from + (index + 0.5) * step;
    const x = Math.sin(angle) - s;
    sum += Math.cos(angle) ** 2 * Math.cos(8 * Math.PI * defect * s * x);
  }
  return (4 / Math.PI) * sum * step;
}

export interface EdgeSpread {
  /** Light at a distance from the edge towards the bright side: 0 far in the dark, ½ on the edge, 1 far in the bright. */
  readonly at: (distance: number) => number;
  /** ∫₀ of `at`: what a pixel or a line of some width gathers. */
  readonly integral: (distance: number) => number;
}

/**
 * Edge spread of incoherent light: ½ + ∫₀² H(f/2) sin(2πft)/(πf) df, f in NA/λ (J. W. Goodman: Introduction to Fourier
 * Optics, incoherent imaging of a step: from memory). Far out it falls as 1/(π³t), from H(s) ≈ 1 − 4s/π near s = 0.
 */
export function edgeSpread(defect: number): EdgeSpread {
  const reach = Math.ceil(8 + 3 * Math.abs(defect));
  const transfer = Array.from({ length: FREQUENCY_STEPS }, (_, index) =>
    opticalTransfer((index + 0.5) / FREQUENCY_STEPS, defect),
  );
  const df = 2 / FREQUENCY_STEPS;
  const values = new Float64Array(reach * STEPS + 1);
  for (let place = 0; place < values.length; place += 1) {
    const t = place / STEPS;
    let sum = 0.5;
    transfer.forEach((height, index) => {
      const f = (index + 0.5) * df;
      sum += ((height * Math.sin(2 * Math.PI * f * t)) / (Math.PI * f)) * df;
    });
    values[place] = sum;
  }
  const sums = new Float64Array(values.length);
  for (let place = 1; place < values.length; place += 1) {
    sums[place] =
      valueAt(sums, place - 1) + (valueAt(values, place - 1) + valueAt(values, place)) / (2 * STEPS);
  }
  const whole = valueAt(sums, sums.length - 1);
  const brightAt = (t: number): number =>
    t < reach ? between(values, t * STEPS) : 1 - 1 / (Math.PI ** 3 * t);
  const brightIntegral = (t: number): number =>
    t < reach ? integralBetween(sums, values, t) : whole + (t - reach) - Math.log(t / reach) / Math.PI ** 3;
  return {
    at: (distance) => (distance < 0 ? 1 - brightAt(-distance) : brightAt(distance)),
    // ∫₀^(−t) = ∫₀^t − t, because what one side lacks the other has.
    integral: (distance) => (distance < 0 ? brightIntegral(-distance) + distance : brightIntegral(distance)),
  };
}

function valueAt(table: Float64Array, place: number): number {
  return table[place] ?? 0;
}

function between(table: Float64Array, place: number): number {
  const below = Math.floor(place);
  const low = valueAt(table, below);
  return low + (valueAt(table, below + 1) - low) * (place - below);
}

/** The integral of the straight pieces between the table's values, so that it fits `between`. */
function integralBetween(sums: Float64Array, values: Float64Array, t: number): number {
  const below = Math.floor(t * STEPS);
  const past = t - below / STEPS;
  return valueAt(sums, below) + past * ((valueAt(values, below) + between(values, t * STEPS)) / 2);
}

/**
 * The wavefront defect at the pupil's edge of an object out of focus, in wavelengths: n·z·(1 − cos α)/λ with
 * sin α = NA/n. The same for both directions.
 * @param outOfFocusUm distance from the plane in focus, µm
 * @param index refractive index between specimen and front lens
 */
export function defocusWaves(
  outOfFocusUm: number,
  na: number,
  wavelengthUm: number,
  index = na < 1 ? 1 : 1.515,
): number {
  const cosine = Math.sqrt(1 - (na / index) ** 2);
  return (index * outOfFocusUm * (1 - cosine)) / wavelengthUm;
}
