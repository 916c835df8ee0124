import { fieldStop } from "./field-stop.ts";
import { fieldLight, throughReticle, type View } from "./render-view.ts";
import { reticleLayer } from "./reticle-layer.ts";
import type { Raster } from "./scene.ts";

/** Something drawn, kept for as long as the same is asked for. */
function keptLast(): (of: readonly unknown[], draw: () => Float32Array) => Float32Array {
  let last: { readonly of: string; readonly drawn: Float32Array } | null = null;
  return (parts, draw) => {
    const of = JSON.stringify(parts);
    if (last?.of !== of) last = { of, drawn: draw() };
    return last.drawn;
  };
}

/** Alpha of a pixel on a machine whose lowest byte comes first, as all are that Electron and Chromium run on. */
const OPAQUE = 0xff000000;

/** Light as pixels of a canvas: opaque greys, 255 for the bright field. */
function pixelsOf(light: Float32Array): Uint8ClampedArray<ArrayBuffer> {
  const words = new Uint32Array(light.length);
  for (let place = 0; place < light.length; place += 1) {
    // The nearest whole number: light is never below zero.
    const grey = Math.min(255, (255 * (light[place] as number) + 0.5) | 0);
    words[place] = OPAQUE | (grey * 0x010101);
  }
  return new Uint8ClampedArray(words.buffer);
}

/**
 * Draws one picture after another of views that differ little, as `renderView` does: the empty field is drawn anew when
 * the raster changes, what lies in it when slide, focus or optics do, the reticle when it does.
 */
export function viewPainter(): (view: View, raster: Raster, seed: number) => Uint8ClampedArray<ArrayBuffer> {
  const stop = keptLast();
  const field = keptLast();
  const reticle = keptLast();
  return (view, raster, seed) => {
    const { reticle: inEyepiece, ...optics } = view.optics;
    const empty = stop([optics.fieldNumber, optics.unevenness, raster], () => fieldStop(optics, raster));
    const seen = field([{ ...view, optics }, raster], () => fieldLight(view, raster, empty));
    const drawn = reticle([inEyepiece, raster], () => reticleLayer(inEyepiece, raster));
    return pixelsOf(throughReticle(seen, drawn, optics, seed));
  };
}
