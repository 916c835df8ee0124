import { evenChance } from "../../uncertainty/chance-generator.ts";
import { fieldStop, OUTSIDE } from "./field-stop.ts";
import { type LineImage, lineImages, profileAt } from "./ruling-profile.ts";
import {
  fieldMiddle,
  micrometresPerMm,
  type Placing,
  type Raster,
  type Ruling,
  type ViewOptics,
} from "./scene.ts";
import { darkenBySpecimens, type Specimen } from "./specimen.ts";

/** A slide without a ruling. */
export const NO_RULING: Ruling = { pitchUm: 1, lines: 0, lineWidthUm: 1, lengthsUm: [1, 1, 1] };

export interface View {
  readonly ruling: Ruling;
  /** Objects on the slide beside the ruling. */
  readonly specimens?: readonly Specimen[];
  readonly placing: Placing;
  readonly optics: ViewOptics;
}

/**
 * The picture in the eyepiece as light values row by row, 1 for the bright field: the ruling and specimens through the
 * objective, under the sharp reticle (`reticleLayer`), inside the round field stop. The first row is the top. No chance but the
 * photons', whose generator is seeded: the same seed, the same picture.
 * @param reticle what `reticleLayer` gave for the same raster
 */
export function renderView(view: View, reticle: Float32Array, raster: Raster, seed = 0): Float32Array {
  return throughReticle(fieldLight(view, raster), reticle, view.optics, seed);
}

/** What of a field's light passes the reticle, and how it arrives. */
export function throughReticle(
  field: Float32Array,
  reticle: Float32Array,
  { photons }: Pick<ViewOptics, "photons">,
  seed: number,
): Float32Array {
  const light = new Float32Array(field.length);
  for (let place = 0; place < light.length; place += 1)
    light[place] = (field[place] as number) * (1 - (reticle[place] as number));
  return photons > 0 ? withPhotons(light, photons, seed) : light;
}

/**
 * The same without reticle and photons: it changes with slide and focus, not with what is drawn in the eyepiece.
 * @param stop what `fieldStop` gave for the same optics and raster
 */
export function fieldLight(view: View, raster: Raster, stop = fieldStop(view.optics, raster)): Float32Array {
  const light = stop.slice();
  if (view.ruling.lines > 0) darkenByRuling(light, view, raster);
  if (view.specimens) darkenBySpecimens(light, view.specimens, view.placing, view.optics, raster);
  return light;
}

/** Takes away what the lines of a ruling take of the light. */
function darkenByRuling(light: Float32Array, { optics, placing, ruling }: View, raster: Raster): void {
  const { width, height, pixelsPerMm } = raster;
  const { contrast, distortion } = optics;
  const umPerPixel = micrometresPerMm(optics) / pixelsPerMm;
  const [middleX, middleY] = fieldMiddle(raster);
  const stop = (optics.fieldNumber / 2) * pixelsPerMm;
  const shift = optics.parallaxMm * pixelsPerMm;
  const cosine = Math.cos((placing.turnedDeg * Math.PI) / 180);
  const sine = Math.sin((placing.turnedDeg * Math.PI) / 180);
  // The picture's middle in the ruling's own axes, and how far about it can be seen.
  const lookX = raster.lookAtMm[0] * pixelsPerMm - shift;
  const lookY = raster.lookAtMm[1] * pixelsPerMm;
  const lookAlong = (lookX * umPerPixel - placing.xUm) * cosine + (lookY * umPerPixel - placing.yUm) * sine;
  const stretch = 1 + Math.abs(distortion);
  const reach =
    (Math.hypot(width, height) / 2 + Math.abs(distortion) * stop) * umPerPixel * stretch + umPerPixel;
  const images = lineImages(ruling, placing, optics, umPerPixel, [lookAlong - reach, lookAlong + reach]);

  const lowest = Math.min(...images.map(({ above }) => above.from));
  const highest = Math.max(...images.map(({ above }) => above.from + above.step * above.values.length));
  const perStopSquared = 1 / stop ** 2;

  const aboveAt = (dx: number, dy: number): number =>
    (dy * umPerPixel - placing.yUm) * cosine - ((dx - shift) * umPerPixel - placing.xUm) * sine;
  /** Whether a row of an undistorted field lies off the lines from end to end. */
  const isBare = (dy: number): boolean => {
    const ends = [aboveAt(-middleX, dy), aboveAt(width - 1 - middleX, dy)];
    return Math.max(...ends) <= lowest || Math.min(...ends) >= highest;
  };

  for (let row = 0; row < height; row += 1) {
    const dy = middleY - row;
    if (distortion === 0 && isBare(dy)) continue;
    for (let column = 0; column < width; column += 1) {
      const place = row * width + column;
      const before = light[place] as number;
      if (before === OUTSIDE) continue;
      // Where this pixel's light comes from on the specimen: the distortion is taken back.
      const imageX = column - middleX - shift;
      const back =
        distortion === 0
          ? umPerPixel
          : umPerPixel / (1 + distortion * (imageX * imageX + dy * dy) * perStopSquared);
      const x = imageX * back - placing.xUm;
      const y = dy * back - placing.yUm;
      const above = y * cosine - x * sine;
      if (above <= lowest || above >= highest) continue;
      light[place] = before * (1 - contrast * lightTaken(images, x * cosine + y * sine, above));
    }
  }
}

/** The part of the light that lines take at a place in the ruling's own axes, µm. */
function lightTaken(images: readonly LineImage[], along: number, above: number): number {
  let taken = 0;
  for (let index = 0; index < images.length; index += 1) {
    const image = images[index] as LineImage;
    const part = profileAt(image.above, above);
    if (part > 1e-4) taken += part * profileAt(image.along, along);
  }
  return taken;
}

/**
 * Light as photons arrive: each pixel drawn from the normal approximation of the Poisson distribution about its light
 * (good above some twenty photons; W. Feller: An Introduction to Probability Theory: from memory), Box–Muller.
 */
function withPhotons(light: Float32Array, photons: number, seed: number): Float32Array {
  const chance = evenChance(seed);
  return light.map((value) => {
    if (value === OUTSIDE) return value;
    const drawn = Math.sqrt(-2 * Math.log(chance())) * Math.cos(2 * Math.PI * chance());
    return Math.max(0, value + (drawn * Math.sqrt(value * photons)) / photons);
  });
}
