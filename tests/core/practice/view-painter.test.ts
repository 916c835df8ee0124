import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { ALL_EXERCISES } from "#core/practice/exercises/all-exercises.ts";
import { count } from "#core/practice/exercises/count.ts";
import { FRAME_MM } from "#core/practice/exercises/count-field.ts";
import { FREE_OBJECTIVES, FREE_RULING, freeOptics, freePlacing } from "#core/practice/free-view.ts";
import { renderView, type View } from "#core/practice/view/render-view.ts";
import { reticleLayer } from "#core/practice/view/reticle-layer.ts";
import { coarser, type Raster } from "#core/practice/view/scene.ts";
import { viewPainter } from "#core/practice/view/view-painter.ts";
import { memberAt } from "#core/statistics/sample.ts";
import type { ExerciseName } from "#core/vocabulary/practice.ts";
import { firstView } from "../../support/practice-reader.ts";

const RASTER = { width: 363, height: 216, pixelsPerMm: 33, lookAtMm: [0, 0] } as const;
const SEED = 5113;

/** Greys of the picture as `renderView` gives it. */
function greysOf(view: View): number[] {
  const light = renderView(view, reticleLayer(view.optics.reticle, RASTER), RASTER, SEED);
  return Array.from(light, (value) => Math.min(255, Math.floor(255 * value + 0.5)));
}

const greysIn = (pixels: Uint8ClampedArray): number[] =>
  Array.from({ length: pixels.length / 4 }, (_, place) => pixels[4 * place] ?? 0);

/** SHA-256 of the greys of the first task's first look: made by this program once, to be the same on every machine. */
const PICTURES: Readonly<Record<ExerciseName, string>> = {
  tenths: "06502645341bafa5b26f4fd2a85960cc1d8d7cc1300019fcf4dda25b2f489cb6",
  "line-up": "a3aa14f4c2c7ec9431a285f93cba7a1fbf47eb90a53cd7357a123eb6a1d6ab42",
  "find-fault": "b95826202b718972873e12a36d02b08afdacd95d441fb5a13e63c4b169eb997c",
  choose: "9e1a4918263ec3958863d12cac9d1ea2248caa8a6f115e070486c5db5de85ef8",
  measure: "e3dc055d7a2aba012f7ef8f0c93a7ed5ed987860927b98dfe74ec382684cef4b",
  count: "6e81cbf466a350c491bf8dbdc354313344a953b5de7e152c03fdc3c6948a8720",
};

describe.each(ALL_EXERCISES)("the picture of $name", (exercise) => {
  it("is the same on every run and every machine", () => {
    const greys = greysOf(firstView(exercise, SEED, 1));
    expect(createHash("sha256").update(Uint8Array.from(greys)).digest("hex")).toBe(PICTURES[exercise.name]);
  });

  it("is drawn by the painter as by itself, whatever was drawn before, opaque and grey", () => {
    const paint = viewPainter();
    const views = [1, 2, 1].map((ordinal) => firstView(exercise, SEED, ordinal));
    for (const view of views) {
      const pixels = paint(view, RASTER, SEED);
      expect(greysIn(pixels)).toEqual(greysOf(view));
      expect(pixels.every((value, index) => index % 4 !== 3 || value === 255)).toBe(true);
      expect(pixels.every((value, index) => index % 4 === 3 || value === pixels[index - (index % 4)])).toBe(
        true,
      );
    }
  });
});

it("draws what changes by itself: focus, the objective, the hairline in the eyepiece, the noise", () => {
  const paint = viewPainter();
  const view = firstView(count, SEED, 1);
  const { optics, placing } = view;
  const changed: readonly View[] = [
    view,
    { ...view, placing: { ...placing, outOfFocusUm: 6 } },
    { ...view, optics: { ...optics, objective: 22 } },
    {
      ...view,
      optics: { ...optics, reticle: { ...optics.reticle, hairline: { atMm: 1, lengthMm: FRAME_MM } } },
    },
    { ...view, optics: { ...optics, photons: 400 } },
  ];
  const pictures = changed.map((one) => greysIn(paint(one, RASTER, SEED)));
  expect(pictures).toEqual(changed.map(greysOf));
  expect(new Set(pictures.map((one) => one.join())).size).toBe(changed.length);
});

describe("the coarse picture of what moves", () => {
  it("shows the same at the same places: four pixels of the whole one are one of it", () => {
    const raster: Raster = { width: 400, height: 300, pixelsPerMm: 40, lookAtMm: [0.5, -0.25] };
    const objective = memberAt(FREE_OBJECTIVES, 1);
    const view = {
      optics: freeOptics(objective),
      ruling: FREE_RULING,
      placing: { ...freePlacing(objective), xUm: 37 },
    };
    const small = coarser(raster);
    expect(small).toEqual({ width: 200, height: 150, pixelsPerMm: 20, lookAtMm: [0.5, -0.25] });
    const whole = viewPainter()(view, raster, 1);
    const coarse = viewPainter()(view, small, 1);
    const grey = (pixels: Uint8ClampedArray, width: number, x: number, y: number): number =>
      pixels[4 * (y * width + x)] ?? 0;
    let apart = 0;
    let light = 0;
    for (let y = 0; y < small.height; y += 1) {
      for (let x = 0; x < small.width; x += 1) {
        const four = [0, 1].flatMap((dy) => [0, 1].map((dx) => grey(whole, 400, 2 * x + dx, 2 * y + dy)));
        const mean = four.reduce((sum, one) => sum + one, 0) / 4;
        apart += Math.abs(mean - grey(coarse, 200, x, y));
        light += mean;
      }
    }
    // A picture moved by one of its pixels differs by far more than this.
    expect(apart / light).toBeLessThan(0.02);
  });

  it("keeps the width in millimetres where the pixels are an odd number", () => {
    const odd = coarser({ width: 401, height: 299, pixelsPerMm: 40.1, lookAtMm: [0, 0] });
    expect(odd.width / odd.pixelsPerMm).toBeCloseTo(401 / 40.1, 12);
    expect([odd.width, odd.height]).toEqual([201, 150]);
  });
});
