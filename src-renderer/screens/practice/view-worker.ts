import { renderView, type View } from "#core/practice/view/render-view.ts";
import { reticleLayer } from "#core/practice/view/reticle-layer.ts";
import type { Raster } from "#core/practice/view/scene.ts";

/** One picture wanted. */
export interface ViewOrder {
  readonly view: View;
  readonly raster: Raster;
  readonly seed: number;
}

export interface DrawnPicture {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8ClampedArray<ArrayBuffer>;
}

/** Alpha of a pixel on a machine whose lowest byte comes first, as all are that Electron and Chromium run on. */
const OPAQUE = 0xff000000;

/** The last reticle drawn: it changes only with the raster. */
let reticle: { readonly of: string; readonly layer: Float32Array } | null = null;

// Draws beside the window, so that its keys are answered at once.
addEventListener("message", ({ data: { view, raster, seed } }: MessageEvent<ViewOrder>) => {
  const of = JSON.stringify([view.optics.reticle, raster]);
  if (reticle?.of !== of) reticle = { of, layer: reticleLayer(view.optics.reticle, raster) };
  const light = renderView(view, reticle.layer, raster, seed);
  const pixels = new Uint8ClampedArray(light.length * 4);
  // One word for a pixel: opaque grey.
  const words = new Uint32Array(pixels.buffer);
  for (let place = 0; place < light.length; place += 1) {
    const grey = Math.min(255, Math.round(255 * (light[place] as number)));
    words[place] = OPAQUE | (grey * 0x010101);
  }
  const picture: DrawnPicture = { width: raster.width, height: raster.height, pixels };
  postMessage(picture, { transfer: [pixels.buffer] });
});
