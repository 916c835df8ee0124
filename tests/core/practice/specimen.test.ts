import { describe, expect, it } from "vitest";
import { opticalTransfer } from "#core/practice/view/diffraction.ts";
import { NO_RULING, renderView } from "#core/practice/view/render-view.ts";
import { micrometresPerMm, type Placing, type Raster, type ViewOptics } from "#core/practice/view/scene.ts";
import type { Outline, Specimen } from "#core/practice/view/specimen.ts";

const PLACING: Placing = { xUm: 0, yUm: 0, turnedDeg: 0, outOfFocusUm: 0, tilt: 0 };
const OPTICS: ViewOptics = {
  objective: 40,
  intermediate: 1,
  na: 0.65,
  wavelengthUm: 0.55,
  fieldNumber: 30,
  reticle: { divisions: 100, lengthMm: 10, lineWidthMm: 0.015, numeralEvery: 10 },
  contrast: 1,
  unevenness: 0,
  photons: 0,
  distortion: 0,
  parallaxMm: 0,
};
const RASTER: Raster = { width: 701, height: 701, pixelsPerMm: 80, lookAtMm: [0, 0] };
const PIXEL_UM = micrometresPerMm(OPTICS) / RASTER.pixelsPerMm;

function specimen(outline: Outline, change: Partial<Specimen> = {}): Specimen {
  return {
    outline,
    xUm: 0,
    yUm: 0,
    turnedDeg: 0,
    wallUm: 0,
    wallDark: 0,
    bodyDark: 0.6,
    ornamentUm: 0,
    ...change,
  };
}

/** The light taken at each pixel. */
function taken(
  specimens: readonly Specimen[],
  optics = OPTICS,
  placing = PLACING,
  raster = RASTER,
): Float32Array {
  const bare = new Float32Array(raster.width * raster.height);
  return renderView({ ruling: NO_RULING, specimens, placing, optics }, bare, raster).map(
    (light) => 1 - light,
  );
}

function bessel(order: number, v: number): number {
  // Bessel's integral: M. Abramowitz, I. A. Stegun: Handbook of Mathematical Functions (1964), 9.1.21 (from memory).
  const steps = 200;
  let sum = 0;
  for (let index = 0; index < steps; index += 1) {
    const angle = ((index + 0.5) * Math.PI) / steps;
    sum += Math.cos(order * angle - v * Math.sin(angle));
  }
  return sum / steps;
}

/**
 * The exact image of a bright disc of radius R at a distance r from its middle, lengths in λ/NA: the Hankel transform
 * R·∫₀² H(f/2)·J₁(2πRf)·J₀(2πrf)·2π df (R. N. Bracewell: The Fourier Transform and Its Applications: from memory).
 */
function discImage(R: number, r: number, defect: number): number {
  const steps = 600;
  let sum = 0;
  for (let index = 0; index < steps; index += 1) {
    const f = ((index + 0.5) * 2) / steps;
    sum += opticalTransfer(f / 2, defect) * bessel(1, 2 * Math.PI * R * f) * bessel(0, 2 * Math.PI * r * f);
  }
  return (sum * 2 * Math.PI * R * 2) / steps;
}

/** Elementary geometry: arcs of radius R through corners 2b apart, 2h high. */
function valveArea(length: number, width: number, round: number): number {
  const [b, h] = [length / 2 - round, width / 2 - round];
  const R = (b * b + h * h) / (2 * h);
  const angle = 2 * Math.asin(b / R);
  const lens = R * R * (angle - Math.sin(angle));
  return lens + 2 * R * angle * round + Math.PI * round * round;
}

describe("the image of a specimen", () => {
  it.each([
    [0, 0.03],
    [0.4, 0.04],
  ])("is that of a disc, out of focus by %s waves, within %s of its light", (defect, within) => {
    const unit = OPTICS.wavelengthUm / OPTICS.na;
    const radius = 4 * unit;
    // n·z·(1 − cos α)/λ = W₂₀.
    const outOfFocusUm = (defect * OPTICS.wavelengthUm) / (1 - Math.sqrt(1 - OPTICS.na ** 2));
    const disc = specimen({ kind: "ellipse", lengthUm: 2 * radius, widthUm: 2 * radius }, { bodyDark: 1 });
    const picture = taken([disc], OPTICS, { ...PLACING, outOfFocusUm });
    for (const r of [0, 2, 3, 3.5, 4, 4.5, 5, 6]) {
      const column = 350 + (r * unit) / PIXEL_UM;
      const left = Math.floor(column);
      const row = 350 * 701;
      const [low = 0, high = 0] = [picture[row + left], picture[row + left + 1]];
      const drawn = low + (high - low) * (column - left);
      expect(Math.abs(drawn - discImage(4, r, defect))).toBeLessThan(within);
    }
  });

  it.each<[string, Outline, number]>([
    ["sphere", { kind: "ellipse", lengthUm: 20, widthUm: 20 }, Math.PI * 100],
    ["ellipsoid", { kind: "ellipse", lengthUm: 40, widthUm: 22 }, Math.PI * 20 * 11],
    ["rod", { kind: "rod", lengthUm: 50, widthUm: 5, bendUm: 0 }, 45 * 5 + Math.PI * 2.5 ** 2],
    // Arc with half chord 22.5 and height 8: radius (22.5² + 8²)/16, angle 2·asin(22.5/R).
    [
      "bent rod",
      { kind: "rod", lengthUm: 50, widthUm: 5, bendUm: 8 },
      2 * Math.asin(22.5 / ((22.5 ** 2 + 64) / 16)) * ((22.5 ** 2 + 64) / 16) * 5 + Math.PI * 2.5 ** 2,
    ],
    // Two segments of circles through both corners, widened by the radius of the ends: area + perimeter·ρ + π·ρ².
    ["diatom valve", { kind: "valve", lengthUm: 60, widthUm: 16 }, valveArea(60, 16, 0.12 * 16)],
  ])("of a %s keeps its light and its middle, turned and out of focus", (_, outline, area) => {
    for (const [turnedDeg, outOfFocusUm] of [
      [0, 0],
      [33, 3],
    ] as const) {
      const picture = taken([specimen(outline, { xUm: 3.21, yUm: -2.4, turnedDeg })], OPTICS, {
        ...PLACING,
        outOfFocusUm,
      });
      let [sum, atX, atY] = [0, 0, 0];
      picture.forEach((part, place) => {
        sum += part;
        atX += part * ((place % 701) - 350);
        atY -= part * (Math.floor(place / 701) - 350);
      });
      expect(Math.abs((sum * PIXEL_UM ** 2) / (0.6 * area) - 1)).toBeLessThan(0.05);
      if (outline.kind === "rod" && outline.bendUm !== 0) continue;
      expect(Math.abs(atX / sum - 3.21 / PIXEL_UM)).toBeLessThan(0.05);
      expect(Math.abs(atY / sum + 2.4 / PIXEL_UM)).toBeLessThan(0.05);
    }
  });

  it.each([0.1, 0.25, 0.4, 0.65, 0.95])(
    "has an edge where the outline is, whatever the aperture: %s",
    (na) => {
      const unit = OPTICS.wavelengthUm / na;
      const sphere = specimen({ kind: "ellipse", lengthUm: 60 * unit, widthUm: 60 * unit }, { bodyDark: 1 });
      const objective = 1000 / (20 * unit);
      const raster = { width: 901, height: 3, pixelsPerMm: 100, lookAtMm: [0, 0] } as const;
      const picture = taken([sphere], { ...OPTICS, na, objective, fieldNumber: 60 }, PLACING, raster);
      const row = picture.slice(901, 1802);
      const pixel = micrometresPerMm({ objective, intermediate: 1 }) / 100;
      const crossing = row.findIndex((part, column) => column > 450 && part < 0.5);
      const [before = 0, after = 0] = [row[crossing - 1], row[crossing]];
      const at = (crossing - 1 + (before - 0.5) / (before - after) - 450) * pixel;
      expect(Math.abs(at / (30 * unit) - 1)).toBeLessThan(0.002);
    },
  );

  it("has a wall inside its outline, and spines outside of it", () => {
    const wall = { wallUm: 2, wallDark: 0.9, bodyDark: 0.1 };
    const smooth = specimen({ kind: "ellipse", lengthUm: 40, widthUm: 40 }, wall);
    const spiny = { ...smooth, ornamentUm: 4 };
    const along = (picture: Float32Array, um: number) =>
      picture[350 * 701 + 350 + Math.round(um / PIXEL_UM)] ?? 0;
    const plain = taken([smooth]);
    expect(along(plain, 19)).toBeGreaterThan(0.75);
    expect(along(plain, 10)).toBeCloseTo(0.1, 1);
    const sum = (picture: Float32Array) => picture.reduce((all, part) => all + part, 0) * PIXEL_UM ** 2;
    // 24 spines of 4 µm by 2 µm with round ends, at nine tenths of the light.
    const spines = 24 * (3 * 2 + Math.PI / 2) * 0.9;
    expect((sum(taken([spiny])) - sum(plain)) / spines).toBeGreaterThan(0.85);
    expect((sum(taken([spiny])) - sum(plain)) / spines).toBeLessThan(1.1);
  });

  it("of a spore ends at its body on one side and at its apiculus on the other; of a valve at both tips", () => {
    const dark = { bodyDark: 1 };
    const half = (picture: Float32Array, from: number, step: number): number => {
      let column = from;
      while ((picture[350 * 701 + column] ?? 0) > 0.5) column += step;
      const [inside = 0, outside = 0] = [picture[350 * 701 + column - step], picture[350 * 701 + column]];
      return (column - step + (step * (inside - 0.5)) / (inside - outside) - 350) * PIXEL_UM;
    };
    const spore = taken([specimen({ kind: "spore", lengthUm: 50, widthUm: 30, apiculusUm: 4 }, dark)]);
    expect(Math.abs(half(spore, 350, -1) + 25)).toBeLessThan(0.1);
    // Blurred round ends look a little shorter: by less than a tenth of λ/NA, 0.85 µm.
    expect(Math.abs(half(spore, 350, 1) - 29)).toBeLessThan(0.15);
    const valve = taken([specimen({ kind: "valve", lengthUm: 60, widthUm: 16 }, dark)]);
    expect(Math.abs(half(valve, 350, 1) - 30)).toBeLessThan(0.15);
    expect(Math.abs(half(valve, 350, -1) + 30)).toBeLessThan(0.15);
  });

  it("takes its part of what others leave where objects lie over each other, and is the same on every run", () => {
    const one = specimen({ kind: "ellipse", lengthUm: 20, widthUm: 20 });
    const both = taken([one, { ...one, xUm: 4 }]);
    expect(both[350 * 701 + 350] ?? 0).toBeCloseTo(1 - 0.4 * 0.4, 2);
    const grain = specimen({
      kind: "debris",
      sizeUm: 15,
      waves: [
        [3, 0.2, 1],
        [5, 0.1, 2],
      ],
    });
    expect(taken([grain])).toEqual(taken([grain]));
  });
});
