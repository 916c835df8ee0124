import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import {
  classMoments,
  cumulativeShares,
  histogram,
  histogramPercentile,
} from "#core/statistics/histogram.ts";
import {
  CLASS_RULES,
  equalLimits,
  geometricLimits,
  preferredLimits,
  proposeClasses,
  proposeLimits,
  roundWidth,
} from "#core/statistics/size-classes.ts";
import { lengths, readings } from "../../support/sample-arbitraries.ts";

describe("a histogram", () => {
  it("puts a value on a limit into the class above it, on decimals and not on binary floats", () => {
    const limits = equalLimits(decimal("0.1"), decimal("0.1"), 3);
    const counted = histogram(decimals("0.1 0.2 0.3 0.30 0.4 0.05"), limits);
    expect(counted.classes.map(({ count }) => count)).toEqual([1, 1, 2]);
    expect(counted).toMatchObject({ total: 4, below: 1, above: 1 });
  });

  it("loses no value", () => {
    fc.assert(
      fc.property(readings(2), fc.constantFrom(...CLASS_RULES), (values, rule) => {
        const counted = histogram(values, proposeLimits(values, rule));
        expect(counted).toMatchObject({ total: values.length, below: 0, above: 0 });
        expect(counted.classes.reduce((sum, { count }) => sum + count, 0)).toBe(values.length);
      }),
    );
  });

  it("covers every length with preferred numbers", () => {
    fc.assert(
      fc.property(lengths(1), fc.constantFrom("R10" as const, "R20" as const), (values, series) => {
        expect(histogram(values, preferredLimits(values, series)).total).toBe(values.length);
      }),
    );
  });

  it("interpolates percentiles between class limits, from the first limit up", () => {
    const counted = histogram(decimals("1 3 3 5"), decimals("0 2 4 6"));
    const at = (p: string) => histogramPercentile(counted, "number", decimal(p)).value.toString();
    expect([at("0"), at("0.25"), at("0.5"), at("0.75"), at("1")]).toEqual(["0", "2", "3", "4", "6"]);
    expect(cumulativeShares(counted, "number").join(" ")).toBe("0.25 0.75 1");
  });

  it("names what it cannot use", () => {
    expect(() => histogram([], decimals("1"))).toThrow("limits: needs at least 2 values");
    expect(() => histogram([], decimals("1 2 2"))).toThrow(
      "limits.2: must be greater than the limit before it",
    );
    expect(() => classMoments(histogram(decimals("1"), decimals("0 2")))).toThrow(
      "histogram: needs at least 2",
    );
    expect(() => cumulativeShares(histogram([], decimals("0 2")), "number")).toThrow(
      "histogram: has no value",
    );
    expect(() => cumulativeShares(histogram(decimals("1"), decimals("-1 2")), "volume")).toThrow(
      "below zero",
    );
    expect(() => preferredLimits(decimals("0 1"), "R10")).toThrow("values: must be greater than zero");
    expect(() => equalLimits(decimal(0), decimal(0), 3)).toThrow("width:");
    expect(() => geometricLimits(decimal(1), 0, 3)).toThrow("perDecade:");
  });
});

describe("class proposals", () => {
  it("round a width to 1, 2 or 5 times a power of ten, whichever is nearest in ratio", () => {
    const rounded = decimals("3.43 3 0.0069 14 15 72 1").map((width) => roundWidth(width).toString());
    expect(rounded).toEqual(["5", "2", "0.005", "10", "20", "100", "1"]);
  });

  it("make one class of a sample without spread, and never millions", () => {
    for (const rule of CLASS_RULES) expect(proposeClasses(decimals("7 7 7"), rule).count).toBe(1);
    expect(
      proposeLimits(decimals("1 1.0001 1.0002 1.0003 1000000"), "freedman-diaconis").length,
    ).toBeLessThan(3000);
    expect(proposeClasses(decimals("7 7 7 7 7 7 9"), "freedman-diaconis").count).toBe(1);
  });
});
