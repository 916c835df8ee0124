import { evenChance } from "../../uncertainty/chance-generator.ts";
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

/** Light beyond the field stop: black. */
const OUTSIDE = 0;

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
  const { optics, placing, ruling } = view;
  const { width, height, pixelsPerMm } = raster;
  const light = new Float32Array(width * height);
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
  const stretch = 1 + Math.abs(optics.distortion);
  const reach =
    (Math.hypot(width, height) / 2 + Math.abs(optics.distortion) * stop) * umPerPixel * stretch + umPerPixel;
  const images = lineImages(ruling, placing, optics, umPerPixel, [lookAlong - reach, lookAlong + reach]);

  const lowest = Math.min(...images.map(({ above }) => above.from));
  const highest = Math.max(...images.map(({ above }) => above.from + above.step * above.values.length));
  const surelyInside = (stop - 0.5) ** 2;
  const surelyOutside = (stop + 0.5) ** 2;
  const perStopSquared = 1 / stop ** 2;

  for (let row = 0; row < height; row += 1) {
    const dy = middleY - row;
    for (let column = 0; column < width; column += 1) {
      const place = row * width + column;
      const dx = column - middleX;
      const squared = dx * dx + dy * dy;
      if (squared >= surelyOutside) {
        light[place] = OUTSIDE;
        continue;
      }
      const inside = squared <= surelyInside ? 1 : stop + 0.5 - Math.sqrt(squared);
      // Where this pixel's light comes from on the specimen: the distortion is taken back.
      const imageX = dx - shift;
      const back = umPerPixel / (1 + optics.distortion * (imageX * imageX + dy * dy) * perStopSquared);
      const x = imageX * back - placing.xUm;
      const y = dy * back - placing.yUm;
      const above = y * cosine - x * sine;
      const taken = above > lowest && above < highest ? lightTaken(images, x * cosine + y * sine, above) : 0;
      const bright = 1 - optics.unevenness * squared * perStopSquared;
      light[place] = inside * bright * (1 - optics.contrast * taken) * (1 - (reticle[place] as number));
    }
  }
  if (view.specimens) darkenBySpecimens(light, view.specimens, placing, optics, raster);
  return optics.photons > 0 ? withPhotons(light, optics.photons, seed) : light;
}

/** The part of the light that lines take at a place in the ruling's own axes, µm. */
function lightTaken(images: readonly LineImage[], along: number, above: number): number {
  let taken = 0;
  for (const image of images) {
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
