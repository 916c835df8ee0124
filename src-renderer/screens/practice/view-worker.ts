import type { View } from "#core/practice/view/render-view.ts";
import { coarser, type Raster } from "#core/practice/view/scene.ts";
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
  /** The order is done: false for the whole picture that follows a coarse one once nothing moves. */
  readonly answers: boolean;
}

/** Orders that follow each other faster than this belong to one movement, ms. */
const MOVING = 150;
/** A whole picture that takes longer misses a frame of 60 in a second, ms; some is left for painting it. */
const ONE_FRAME = 14;

// Each keeps what does not change from picture to picture of its size.
const paintWhole = viewPainter();
const paintCoarse = viewPainter();
let last = Number.NEGATIVE_INFINITY;
let isSlow = false;
let atRest: ReturnType<typeof setTimeout> | undefined;

function send({ width, height }: Raster, pixels: DrawnPicture["pixels"], answers: boolean): void {
  const picture: DrawnPicture = { width, height, pixels, answers };
  postMessage(picture, { transfer: [pixels.buffer] });
}

function sendWhole({ view, raster, seed }: ViewOrder, answers: boolean): void {
  const began = performance.now();
  const pixels = paintWhole(view, raster, seed);
  isSlow = performance.now() - began > ONE_FRAME;
  send(raster, pixels, answers);
}

// Draws beside the window, so that its keys are answered at once. What moves on a large picture is drawn coarsely, in time,
// and sharply when it has come to rest.
addEventListener("message", ({ data: order }: MessageEvent<ViewOrder>) => {
  clearTimeout(atRest);
  const now = performance.now();
  const isMoving = now - last < MOVING;
  last = now;
  if (!isMoving || !isSlow) {
    sendWhole(order, true);
    return;
  }
  const raster = coarser(order.raster);
  send(raster, paintCoarse(order.view, raster, order.seed), true);
  atRest = setTimeout(() => sendWhole(order, false), MOVING);
});
