import { expect, test } from "vitest";
import { edgeSpread } from "#core/practice/view/diffraction.ts";
import { renderView, type View } from "#core/practice/view/render-view.ts";
import { reticleLayer } from "#core/practice/view/reticle-layer.ts";
import {
  micrometresPerMm,
  type Placing,
  type Raster,
  type Ruling,
  type ViewOptics,
} from "#core/practice/view/scene.ts";

const RULING: Ruling = { pitchUm: 10, lines: 101, lineWidthUm: 2, lengthsUm: [100, 130, 160] };
const PLACING: Placing = { xUm: 0, yUm: -50, turnedDeg: 0, outOfFocusUm: 0, tilt: 0 };
const OPTICS: ViewOptics = {
  objective: 20,
  intermediate: 1,
  na: 0.4,
  wavelengthUm: 0.55,
  fieldNumber: 18,
  reticle: { divisions: 100, lengthMm: 10, lineWidthMm: 0.015, numeralEvery: 10 },
  contrast: 1,
  unevenness: 0,
  photons: 0,
  distortion: 0,
  parallaxMm: 0,
};
/** No reticle, so that the ruling is seen alone. */
const BARE = (raster: Raster) => new Float32Array(raster.width * raster.height);

function rowOf(view: View, raster: Raster, row: number): number[] {
  const picture = renderView(view, BARE(raster), raster);
  return [...picture.slice(row * raster.width, (row + 1) * raster.width)];
}

/** Middle of the darkness about a column. */
function centroid(row: readonly number[], about: number, reach: number): number {
  let weight = 0;
  let sum = 0;
  for (let column = Math.ceil(about - reach); column <= about + reach; column += 1) {
    const dark = 1 - (row[column] ?? 1);
    weight += dark;
    sum += dark * column;
  }
  return sum / weight;
}

test("every line's centroid lies within a hundredth of a pixel of its truth", () => {
  const raster = { width: 901, height: 61, pixelsPerMm: 50, lookAtMm: [0, 0] } as const;
  const ruling = { ...RULING, pitchUm: 40 };
  for (const xUm of [0, 3.337, -7.912]) {
    for (const outOfFocusUm of [0, 2]) {
      const view = { ruling, optics: OPTICS, placing: { ...PLACING, xUm, outOfFocusUm } };
      const row = rowOf(view, raster, 30);
      const pixelUm = micrometresPerMm(OPTICS) / raster.pixelsPerMm;
      for (let line = 1; line < 10; line += 1) {
        const at = 450 + (xUm + line * ruling.pitchUm) / pixelUm;
        const window = Math.round(ruling.pitchUm / 2 / pixelUm) - 0.5;
        expect(Math.abs(centroid(row, at, window) - at)).toBeLessThan(0.01);
      }
    }
  }
});

test("an edge's 10 to 90 % width follows λ/NA for five apertures", () => {
  const wide = edgeSpread(0);
  const where = (level: number): number => {
    let low = -5;
    let high = 5;
    for (let turn = 0; turn < 60; turn += 1) {
      const middle = (low + high) / 2;
      if (wide.at(middle) < level) low = middle;
      else high = middle;
    }
    return low;
  };
  const theory = where(0.9) - where(0.1);
  for (const na of [0.1, 0.25, 0.4, 0.65, 0.95]) {
    // One broad line: its left flank is an edge. Enlarged until a pixel is a hundredth of the blur.
    const objective = 10 * (na / 0.1);
    const optics = { ...OPTICS, na, objective };
    const unitMm = (optics.wavelengthUm / na) * (objective / 1000);
    const raster = { width: 1601, height: 3, pixelsPerMm: 100 / unitMm, lookAtMm: [0, 0] } as const;
    const ruling = {
      ...RULING,
      lines: 1,
      lineWidthUm: 40 * (optics.wavelengthUm / na),
      lengthsUm: [4000, 4000, 4000],
    } as const;
    const placing = { ...PLACING, xUm: ruling.lineWidthUm / 2, yUm: -2000 };
    const row = rowOf({ ruling, placing, optics }, raster, 1);
    const crossing = (level: number): number => {
      const column = row.findIndex((value, index) => value >= level && (row[index + 1] ?? 0) < level);
      const here = row[column] ?? 0;
      return column + (here - level) / (here - (row[column + 1] ?? 0));
    };
    const width = (crossing(0.1) - crossing(0.9)) / 100;
    expect(width / theory).toBeCloseTo(1, 2);
  }
});

test("no light is lost: a line takes its width times its length, however blurred and turned", () => {
  const raster = { width: 601, height: 601, pixelsPerMm: 40, lookAtMm: [0, 0] } as const;
  const pixelUm = micrometresPerMm(OPTICS) / raster.pixelsPerMm;
  const ruling = { ...RULING, lines: 1, lineWidthUm: 6, lengthsUm: [150, 150, 150] } as const;
  for (const outOfFocusUm of [0, 15]) {
    for (const turnedDeg of [0, 17]) {
      const placing = { ...PLACING, turnedDeg, outOfFocusUm, xUm: 30, yUm: -75 };
      const picture = renderView(
        { ruling, placing, optics: { ...OPTICS, fieldNumber: 30 } },
        BARE(raster),
        raster,
      );
      const taken = picture.reduce((sum, light) => sum + (light > 0 ? 1 - light : 0), 0) * pixelUm ** 2;
      // The rest lies in the blur's far tail, beyond what is followed.
      expect(Math.abs(taken / (6 * 150) - 1)).toBeLessThan(0.03);
    }
  }
});

test("the reticle keeps each line's place and darkness, below a pixel too", () => {
  const raster = { width: 701, height: 301, pixelsPerMm: 47.3, lookAtMm: [0, 0] } as const;
  const layer = reticleLayer(OPTICS.reticle, raster);
  const row = Array.from(layer.slice(145 * 701, 146 * 701), (part) => 1 - part);
  for (let division = 0; division <= 100; division += 1) {
    const at = 350 + (division - 50) * 0.1 * raster.pixelsPerMm;
    expect(Math.abs(centroid(row, at, 2) - at)).toBeLessThan(0.01);
    const dark = [-2, -1, 0, 1, 2].reduce((sum, step) => sum + 1 - (row[Math.round(at) + step] ?? 1), 0);
    expect(dark).toBeCloseTo(0.015 * raster.pixelsPerMm, 4);
  }
});

test("the same seed draws the same picture, another seed another; the noise is that of the photons", () => {
  const raster = { width: 201, height: 201, pixelsPerMm: 8, lookAtMm: [0, 0] } as const;
  const view = { ruling: RULING, placing: { ...PLACING, yUm: 5000 }, optics: { ...OPTICS, photons: 400 } };
  const first = renderView(view, BARE(raster), raster, 7);
  expect(renderView(view, BARE(raster), raster, 7)).toEqual(first);
  expect(renderView(view, BARE(raster), raster, 8)).not.toEqual(first);
  const inField = [...first].filter(
    (_, place) => Math.hypot((place % 201) - 100, Math.floor(place / 201) - 100) < 60,
  );
  const mean = inField.reduce((sum, light) => sum + light, 0) / inField.length;
  const variance = inField.reduce((sum, light) => sum + (light - mean) ** 2, 0) / (inField.length - 1);
  expect(mean).toBeCloseTo(1, 2);
  expect(variance * 400).toBeCloseTo(1, 1);
});

test("beyond the field stop it is dark, and distortion moves the rim but not the middle", () => {
  const raster = { width: 401, height: 401, pixelsPerMm: 20, lookAtMm: [0, 0] } as const;
  const row = rowOf({ ruling: RULING, placing: PLACING, optics: OPTICS }, raster, 5);
  expect(Math.max(...row)).toBe(0);
  const straight = {
    ruling: { ...RULING, pitchUm: 40 },
    placing: { ...PLACING, xUm: -400 },
    optics: OPTICS,
  };
  const bent = { ...straight, optics: { ...OPTICS, distortion: 0.02 } };
  const at = (view: View, about: number) => centroid(rowOf(view, raster, 198), about, 7.5);
  expect(at(bent, 200) - at(straight, 200)).toBeCloseTo(0, 2);
  expect(at(bent, 344) - at(straight, 344)).toBeCloseTo(0.02 * (144 / 180) ** 2 * 144, 1);
});
