import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { BIOVOLUME_SHAPES, type BiovolumeShape } from "#core/methods/biovolume-shapes.ts";
import { cellCarbon, DIATOM_CARBON, PROTIST_CARBON } from "#core/methods/carbon.ts";
import {
  type CellDimensions,
  cellVolume,
  meanCellVolume,
  measuredCellVolume,
  reducedVolume,
  volumeDerivative,
  withHiddenDimension,
} from "#core/methods/cell-volume.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";
import { relativeUncertaintyOf } from "#core/quantity/uncertain-product.ts";
import { BIOVOLUME_SHAPE_IDS } from "#core/vocabulary/derived-kinds.ts";

function shapeOf(id: string): BiovolumeShape {
  const shape = BIOVOLUME_SHAPES.find((entry) => entry.id === id);
  if (!shape) throw new Error(`no shape ${id}`);
  return shape;
}

/** Dimensions that fit every shape: lengths well above diameters. */
function dimensionsFor(shape: BiovolumeShape): fc.Arbitrary<CellDimensions> {
  const entries = shape.inputs.map(({ key }) => [
    key,
    fc.integer({ min: key === "h" ? 200 : 10, max: key === "h" ? 400 : 150 }).map((n) => decimal(n).div(10)),
  ]);
  return fc.record(Object.fromEntries(entries));
}

it("every shape that a record may name has its formula, once", () => {
  expect(BIOVOLUME_SHAPES.map(({ id }) => id)).toEqual([...BIOVOLUME_SHAPE_IDS]);
});

describe.each(BIOVOLUME_SHAPES)("$name", (shape) => {
  it("has a positive volume that grows eightfold when every length doubles", () => {
    fc.assert(
      fc.property(dimensionsFor(shape), (dimensions) => {
        const volume = cellVolume(shape, dimensions);
        const doubled = Object.fromEntries(
          Object.entries(dimensions).map(([key, value]) => [key, value.times(2)]),
        );
        expect(volume.greaterThan(0)).toBe(true);
        expect(cellVolume(shape, doubled).div(volume).toNumber()).toBeCloseTo(8, 12);
      }),
    );
  });

  it("has the derivatives of its volume", () => {
    const step = decimal("1e-8");
    fc.assert(
      fc.property(dimensionsFor(shape), (dimensions) => {
        for (const { key } of shape.inputs) {
          const at = (by: typeof step) =>
            cellVolume(shape, { ...dimensions, [key]: (dimensions[key] ?? ZERO).plus(by) });
          const slope = at(step).minus(at(step.neg())).div(step.times(2));
          expect(volumeDerivative(shape, dimensions, key).div(slope).toNumber()).toBeCloseTo(1, 12);
        }
      }),
      { numRuns: 25 },
    );
  });

  it("carries the factor once, cubed", () => {
    fc.assert(
      fc.property(dimensionsFor(shape), (divisions) => {
        const volume = measuredCellVolume(shape, {
          divisions,
          readingUncertainty: {},
          factor: decimal("0.25"),
          factorUncertainty: decimal("0.0025"),
        });
        expect(relativeUncertaintyOf(volume).toNumber()).toBeCloseTo(0.03, 14);
        expect(volume.value.toNumber()).toBeCloseTo(cellVolume(shape, divisions).div(64).toNumber(), 6);
      }),
      { numRuns: 20 },
    );
  });

  it("names a dimension that is missing, foreign or not greater than zero", () => {
    const first = shape.inputs[0]?.key ?? "";
    const good = Object.fromEntries(shape.inputs.map(({ key }) => [key, decimal(key === "h" ? 40 : 10)]));
    const { [first]: _, ...less } = good;
    expect(() => cellVolume(shape, less)).toThrow(`${first}: is missing for this shape`);
    expect(() => cellVolume(shape, { ...good, [first]: ZERO })).toThrow(
      `${first}: must be greater than zero`,
    );
    expect(() => cellVolume(shape, { ...good, flagellum: decimal(5) })).toThrow(
      "flagellum: is not a dimension of a",
    );
  });
});

describe("shapes that are each other at an end", () => {
  const d = decimal(10);

  it("agree there", () => {
    const sphere = cellVolume(shapeOf("sphere"), { d });
    const same = (id: string, dimensions: CellDimensions) =>
      expect(cellVolume(shapeOf(id), dimensions).div(sphere).toNumber()).toBeCloseTo(1, 14);
    same("prolate-spheroid", { d, h: d });
    same("ellipsoid", { a: d, b: d, c: d });
    same("capsule", { d, h: d });
    expect(cellVolume(shapeOf("half-sphere"), { d }).times(2).div(sphere).toNumber()).toBeCloseTo(1, 14);
    expect(
      cellVolume(shapeOf("cone-half-sphere"), { d, h: decimal(5) })
        .times(2)
        .div(sphere)
        .toNumber(),
    ).toBeCloseTo(1, 14);
    const cylinder = cellVolume(shapeOf("cylinder"), { d, h: decimal(12) });
    expect(
      cellVolume(shapeOf("truncated-cone"), { d1: d, d2: d, h: decimal(12) })
        .div(cylinder)
        .toNumber(),
    ).toBeCloseTo(1, 14);
  });

  it("cannot be shorter than their round ends", () => {
    expect(() => cellVolume(shapeOf("capsule"), { d, h: decimal(9) })).toThrow(
      "h: must not be less than the diameter",
    );
    expect(() => cellVolume(shapeOf("cone-half-sphere"), { d, h: decimal(4) })).toThrow(
      "h: must not be less than half",
    );
  });
});

describe("readings of a cell", () => {
  it("enter with the power of the shape: twice for the diameter of a cylinder", () => {
    const volume = measuredCellVolume(shapeOf("cylinder"), {
      divisions: { d: decimal(20), h: decimal(50) },
      readingUncertainty: { d: decimal("0.2"), h: decimal("0.5") },
      factor: decimal(1),
      factorUncertainty: ZERO,
    });
    const parts = Object.fromEntries(
      volume.components.map(({ key, relative }) => [key, relative.toNumber()]),
    );
    expect(parts["reading-d"]).toBeCloseTo(0.02, 15);
    expect(parts["reading-h"]).toBeCloseTo(0.01, 15);
    expect(() =>
      measuredCellVolume(shapeOf("sphere"), {
        divisions: { d: decimal(20) },
        readingUncertainty: { d: decimal(-1) },
        factor: decimal(1),
        factorUncertainty: ZERO,
      }),
    ).toThrow("readingUncertainty.d: must not be negative");
  });
});

describe("the mean volume of cells", () => {
  it("is the mean of volumes; the volume of mean dimensions is shown to be smaller for spheres", () => {
    const result = meanCellVolume(shapeOf("sphere"), [{ d: decimal(5) }, { d: decimal(15) }]);
    expect(result.n).toBe(2);
    expect(result.mean.div(result.ofMeanDimensions).toNumber()).toBeCloseTo(1.75, 14);
    expect(result.bias.toNumber()).toBeCloseTo(-0.75 / 1.75, 14);
    expect(() => meanCellVolume(shapeOf("sphere"), [])).toThrow("cells: must not be empty");
  });
});

describe("what taxon lists prescribe", () => {
  it("is a hidden dimension by a fixed ratio, and a share taken off", () => {
    const dimensions = withHiddenDimension(
      { a: decimal(20), b: decimal(10) },
      { key: "c", from: "b", ratio: decimal("0.8") },
    );
    expect(cellVolume(shapeOf("ellipsoid"), dimensions).toNumber()).toBeCloseTo(837.7580409572781, 10);
    expect(reducedVolume(decimal(100), decimal("0.2")).toString()).toBe("80");
    expect(() => withHiddenDimension({ a: decimal(1) }, { key: "c", from: "b", ratio: decimal(1) })).toThrow(
      "b: is missing",
    );
    expect(() => withHiddenDimension({ b: decimal(1) }, { key: "c", from: "b", ratio: ZERO })).toThrow(
      "ratio: ",
    );
    expect(() => reducedVolume(decimal(100), decimal(1))).toThrow("share: must be less than 1");
  });

  it("is carbon that grows slower than volume", () => {
    for (const relation of [PROTIST_CARBON, DIATOM_CARBON]) {
      const ratio = cellCarbon(decimal(2000), relation)
        .div(cellCarbon(decimal(1000), relation))
        .toNumber();
      expect(ratio).toBeGreaterThan(1);
      expect(ratio).toBeLessThan(2);
    }
    expect(() => cellCarbon(ZERO, PROTIST_CARBON)).toThrow("volume: must be greater than zero");
  });
});
