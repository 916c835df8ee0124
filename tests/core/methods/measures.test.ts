import { describe, expect, it } from "vitest";
import { grainSizeNumber, meanIntercept } from "#core/methods/grain-size.ts";
import {
  DIAMETER_DEFINITIONS,
  projectedAreaDiameter,
  rootTwoCircle,
} from "#core/methods/particle-diameters.ts";
import { shownPlaces } from "#core/methods/shown-places.ts";
import { decimal, PI, ZERO } from "#core/quantity/decimal.ts";

describe("particle diameters", () => {
  it("by projected area give back the circle", () => {
    expect(projectedAreaDiameter(PI.times(25)).toNumber()).toBeCloseTo(10, 14);
    expect(() => projectedAreaDiameter(ZERO)).toThrow("area: must be greater than zero");
  });

  it("of circles grow by √2 and double in area", () => {
    const one = rootTwoCircle(decimal("0.66"), 3);
    const next = rootTwoCircle(decimal("0.66"), 4);
    expect(next.div(one).pow(2).toNumber()).toBeCloseTo(2, 14);
    expect(() => rootTwoCircle(decimal(1), 1.5)).toThrow("n: must be a whole number");
  });

  it("are defined in words, each with a symbol of its own", () => {
    expect(new Set(DIAMETER_DEFINITIONS.map(({ symbol }) => symbol)).size).toBe(DIAMETER_DEFINITIONS.length);
    expect(DIAMETER_DEFINITIONS.every(({ definition }) => definition.length > 20)).toBe(true);
  });
});

describe("grain size", () => {
  it("rises by one when the intercept falls by √2", () => {
    const coarse = grainSizeNumber(decimal("0.04"));
    const fine = grainSizeNumber(decimal("0.04").div(decimal(2).sqrt()));
    expect(fine.minus(coarse).toNumber()).toBeCloseTo(1, 6);
    expect(meanIntercept(decimal("3.2"), decimal(100)).toString()).toBe("0.032");
    expect(() => grainSizeNumber(ZERO)).toThrow("meanIntercept: must be greater than zero");
    expect(() => meanIntercept(decimal(1), ZERO)).toThrow("intercepts: ");
  });
});

describe("shown places", () => {
  it("are whole micrometres up to 10× and tenths above", () => {
    expect([4, 10, 20, 40, 100].map((magnification) => shownPlaces(decimal(magnification)))).toEqual([
      0, 0, 1, 1, 1,
    ]);
    expect(() => shownPlaces(ZERO)).toThrow("magnification: ");
  });
});
