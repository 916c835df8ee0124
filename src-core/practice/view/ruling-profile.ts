import { spreadOf } from "./edge-spreads.ts";
import type { Placing, Ruling, ViewOptics } from "./scene.ts";

/** How far the light of a line is followed, in λ/NA beyond its blur. */
const REACH = 10;
/** Table cells for a pixel; even. */
const CELLS = 12;

/** A table of values at equal steps; zero beyond its ends. */
export interface Profile {
  readonly from: number;
  readonly step: number;
  readonly values: Float64Array;
}

/** Reads between the steps. */
export function profileAt({ from, step, values }: Profile, where: number): number {
  const place = (where - from) / step;
  if (!(place >= 0) || place >= values.length - 1) return 0;
  const below = Math.floor(place);
  const low = values[below] as number;
  return low + ((values[below + 1] as number) - low) * (place - below);
}

/** Lines of one length as the objective shows them: light taken = `along` × `above`. */
export interface LineImage {
  /** By µm along the ruling from its first line, averaged over pixels. */
  readonly along: Profile;
  /** By µm above the ruling's axis. */
  readonly above: Profile;
}

/** Which of the three lengths a line has. */
function lengthClass(line: number): 0 | 1 | 2 {
  if (line % 10 === 0) return 2;
  return line % 5 === 0 ? 1 : 0;
}

/**
 * The ruling as its objective shows it: each line is the difference of two blurred edges, so no light is lost. Lines
 * stand on the axis and reach up by their length. A line's end is blurred as a long edge is, which is exact but for the
 * corners (within about one λ/NA of them).
 * @param pixelUm width of a pixel on the specimen
 * @param inSight the part of the ruling's axis that is in sight, µm from the first line
 */
export function lineImages(
  ruling: Ruling,
  placing: Placing,
  optics: ViewOptics,
  pixelUm: number,
  inSight: readonly [number, number],
): readonly LineImage[] {
  const unit = optics.wavelengthUm / optics.na;
  const step = pixelUm / CELLS;
  const [from, to] = inSight;
  const cells = Math.max(2, Math.ceil((to - from) / step) + 2);
  const tables = [new Float64Array(cells), new Float64Array(cells), new Float64Array(cells)] as const;
  const halfPixel = pixelUm / 2 / unit;
  const halfLine = ruling.lineWidthUm / 2 / unit;

  for (let line = 0; line < ruling.lines; line += 1) {
    const at = line * ruling.pitchUm;
    const { spread, defect } = spreadOf(placing.outOfFocusUm + placing.tilt * (at + placing.xUm), optics);
    const reach = (REACH + 3 * defect) * unit + ruling.lineWidthUm + pixelUm;
    const first = Math.max(0, Math.floor((at - reach - from) / step));
    const last = Math.min(cells - 1, Math.ceil((at + reach - from) / step));
    const table = tables[lengthClass(line)];
    for (let cell = first; cell <= last; cell += 1) {
      const u = (from + cell * step - at) / unit;
      const light =
        spread.integral(u + halfLine + halfPixel) -
        spread.integral(u + halfLine - halfPixel) -
        spread.integral(u - halfLine + halfPixel) +
        spread.integral(u - halfLine - halfPixel);
      table[cell] = (table[cell] as number) + light / (2 * halfPixel);
    }
  }
  const { spread, defect } = spreadOf(placing.outOfFocusUm, optics);
  return ruling.lengthsUm.map((lengthUm, index) => ({
    along: { from, step, values: sharedBetweenPixels(tables[index] as Float64Array) },
    above: lengthProfile(lengthUm),
  }));

  function lengthProfile(lengthUm: number): Profile {
    const reach = (REACH + 3 * defect) * unit;
    const rise = pixelUm / 4;
    const values = Float64Array.from({ length: Math.ceil((lengthUm + 2 * reach) / rise) + 1 }, (_, index) => {
      const height = index * rise - reach;
      return spread.at(height / unit) - spread.at((height - lengthUm) / unit);
    });
    return { from: -reach, step: rise, values };
  }
}

/**
 * Averages over one more pixel: with the first average a tent, by which a line below a pixel keeps its middle where it
 * is. Running sums of trapezoids.
 */
function sharedBetweenPixels(table: Float64Array): Float64Array {
  const sums = new Float64Array(table.length);
  for (let cell = 1; cell < table.length; cell += 1)
    sums[cell] = (sums[cell - 1] as number) + ((table[cell - 1] as number) + (table[cell] as number)) / 2;
  const end = table.length - 1;
  return table.map((_, cell) => {
    const first = Math.max(0, cell - CELLS / 2);
    const last = Math.min(end, cell + CELLS / 2);
    return ((sums[last] as number) - (sums[first] as number)) / CELLS;
  });
}
