import type { View } from "#core/practice/view/render-view.ts";
import type { Raster } from "#core/practice/view/scene.ts";
import { viewPainter } from "#core/practice/view/view-painter.ts";

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

const paint = viewPainter();

// Draws beside the window, so that its keys are answered at once.
addEventListener("message", ({ data: { view, raster, seed } }: MessageEvent<ViewOrder>) => {
  const pixels = paint(view, raster, seed);
  const picture: DrawnPicture = { width: raster.width, height: raster.height, pixels };
  postMessage(picture, { transfer: [pixels.buffer] });
});
