import { describe, expect, it } from "vitest";
import { COLLECTING_FILTERS } from "#core/counting/areas/filters.ts";
import { drumPerObject } from "#core/counting/densities/airborne-count.ts";
import { katoKatzPerObject, MCMASTER, mcMasterPerObject } from "#core/counting/densities/egg-count.ts";
import { fibreConcentration, fibreLoading, samplingMinutes } from "#core/counting/densities/fibre-density.ts";
import { perObjectOnFilter } from "#core/counting/densities/filter-count.ts";
import { markerFactor } from "#core/counting/densities/marker-count.ts";
import { countsAtEdges, EDGE_RULES, type FrameEdge } from "#core/counting/methods/edge-rules.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";
import { exactly, relativeUncertaintyOf, withUncertainty } from "#core/quantity/uncertain-product.ts";

const area = () =>
  withUncertainty(
    "area",
    { value: decimal("0.00785"), unit: "mm²", standardUncertainty: decimal("0.000157") },
    { key: "factor", name: "calibration factor" },
  );
const count = (fibres: string, fields: number, blankFibres = "0", blankFields = 0) => ({
  fibres: decimal(fibres),
  fields,
  blankFibres: decimal(blankFibres),
  blankFields,
});
const filter = () => exactly("filter", COLLECTING_FILTERS[0]?.effectiveArea ?? "0", "mm²");

describe("fibres on a filter", () => {
  it("carry the doubt of count, blank and area", () => {
    const loading = fibreLoading(count("100", 50, "4", 100), area());
    const net = 2 - 0.04;
    const expected = Math.sqrt((100 / 2500 + 4 / 10_000) / net ** 2 + 0.02 ** 2);
    expect(loading.product && relativeUncertaintyOf(loading.product).toNumber()).toBeCloseTo(expected, 14);
    const air = fibreConcentration(loading, filter(), exactly("air", "480", "L"));
    expect(air.relative?.toNumber()).toBeCloseTo(expected, 14);
    expect(air.product?.value.div(air.value).toNumber()).toBeCloseTo(1, 14);
  });

  it("have no product when the blank takes all of them, and are below detection", () => {
    const loading = fibreLoading(count("1", 100, "3", 100), area());
    expect(loading).toMatchObject({ product: null, belowDetection: true });
    expect(loading.loading.isNegative()).toBe(true);
    expect(fibreConcentration(loading, filter(), exactly("air", "480", "L")).relative).toBeNull();
  });

  it("have no product either when blank and count are the same", () => {
    const loading = fibreLoading(count("4", 100, "4", 100), area());
    expect(loading).toMatchObject({ product: null, belowDetection: true });
    expect(loading.loading.isZero()).toBe(true);
  });

  it("are below detection under 5.5 in 100 fields and not at it", () => {
    expect(fibreLoading(count("5", 100), area()).belowDetection).toBe(true);
    expect(fibreLoading(count("5.5", 100), area()).belowDetection).toBe(false);
  });

  it("name what cannot be", () => {
    expect(() => fibreLoading(count("-1", 100), area())).toThrow(/^fibres: /);
    expect(() => fibreLoading(count("1", 0), area())).toThrow(/^fields: must be a whole number, 1 or more/);
    expect(() => fibreLoading(count("1", 10, "2", 0), area())).toThrow(/^blankFields: must be 1 or more/);
    expect(() => samplingMinutes(decimal(100), decimal(385), ZERO, decimal("0.1"))).toThrow(/^flow: /);
  });
});

describe("marker spores", () => {
  const tablets = { tablets: 1, sporesPerTablet: decimal(18583), deviation: decimal(764) };
  const volume = () => exactly("volume", "1", "cm³");

  it("warn below 20 and not at 20", () => {
    expect(markerFactor(19, tablets, volume()).warning).toContain("Only 19 marker spores");
    expect(markerFactor(20, tablets, volume()).warning).toBeNull();
  });

  it("cannot be missing", () => {
    expect(() => markerFactor(0, tablets, volume())).toThrow(/^markerCounted: must be 1 or more/);
    expect(() => markerFactor(5, { ...tablets, tablets: 0 }, volume())).toThrow(/^tablets: /);
    expect(() => markerFactor(5, { ...tablets, sporesPerTablet: ZERO }, volume())).toThrow(
      /^sporesPerTablet: /,
    );
  });

  it("name the unit of the sample", () => {
    expect(markerFactor(100, tablets, volume()).perObject.unit).toBe("grains/cm³");
  });
});

describe("airborne pollen", () => {
  it("is the reciprocal of share and air, with the line's doubt once", () => {
    const line = withUncertainty(
      "line",
      { value: decimal("0.55"), unit: "mm", standardUncertainty: decimal("0.0055") },
      { key: "factor", name: "calibration factor" },
    );
    expect(relativeUncertaintyOf(drumPerObject(line, 4)).toNumber()).toBeCloseTo(0.01, 15);
    const whole = exactly("line", "3.5", "mm");
    expect(drumPerObject(whole, 4).value.toNumber()).toBeCloseTo(1 / 14.4, 14);
    expect(() => drumPerObject(line, 40)).toThrow(/^lines: cover more than the whole trace/);
    expect(() => drumPerObject(line, 0)).toThrow(/^lines: must be a whole number/);
  });
});

describe("eggs per gram", () => {
  it("follow the preparation", () => {
    expect(mcMasterPerObject({ ...MCMASTER, mass: "2" }).value.toString()).toBe("100");
    expect(() => mcMasterPerObject({ ...MCMASTER, read: "0" })).toThrow(/^read: /);
    expect(() => katoKatzPerObject({ template: ZERO })).toThrow(/^template: /);
  });
});

describe("particles on a part of a filter", () => {
  // P·A_T/A_P per container: USP <788>, method 2; from memory.
  it("are scaled to the filter and shared out over what lies on it", () => {
    const part = exactly("part", "20", "mm²");
    const filterOf200 = exactly("filter", "200", "mm²");
    const perObject = perObjectOnFilter(part, filterOf200, exactly("amount", "5", "container"), "/container");
    expect(perObject.value.times(40).toString()).toBe("80");
    expect(perObject.unit).toBe("/container");
    expect(() => perObjectOnFilter(filterOf200, part, exactly("amount", "1", ""), "/mL")).toThrow(
      /^fields: /,
    );
  });
});

describe("edge rules", () => {
  const facing: readonly (readonly [FrameEdge, FrameEdge])[] = [
    ["left", "right"],
    ["top", "bottom"],
  ];

  it.each(EDGE_RULES)("$name: an object on the line between two fields counts in exactly one", (rule) => {
    for (const [edge, opposite] of facing) {
      expect([countsAtEdges([edge], rule), countsAtEdges([opposite], rule)].filter(Boolean)).toHaveLength(1);
    }
    expect(countsAtEdges([], rule)).toBe(true);
    expect(countsAtEdges(["top", "right", "bottom", "left"], rule)).toBe(false);
  });
});
