import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Decimal, decimal } from "#core/quantity/decimal.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import { countedOnce, logNormalMomentMean, momentMean } from "#core/statistics/moment-mean.ts";
import { interquartileRange, PERCENTILE_TYPES, percentile } from "#core/statistics/percentile.ts";
import {
  decidedByLargest,
  largestParticleShare,
  volumeSpan,
  weightedPercentile,
} from "#core/statistics/weighted-percentile.ts";
import { lengths, nearly, readings } from "../../support/sample-arbitraries.ts";

const share = fc.integer({ min: 0, max: 100 }).map((percent) => decimal(percent).div(100));

describe("percentiles", () => {
  it("stay within the sample, rise with p and ignore the order of rows", () => {
    fc.assert(
      fc.property(readings(1), share, share, fc.constantFrom(...PERCENTILE_TYPES), (values, p, q, type) => {
        const [low, high] = p.lessThan(q) ? [p, q] : [q, p];
        const below = percentile(values, low, type).value;
        const above = percentile([...values].reverse(), high, type).value;
        expect(below.lessThanOrEqualTo(above)).toBe(true);
        expect(below.greaterThanOrEqualTo(Decimal.min(...values))).toBe(true);
        expect(above.lessThanOrEqualTo(Decimal.max(...values))).toBe(true);
      }),
    );
  });

  it("mark where a definition asks beyond the sample", () => {
    const ten = decimals("1 2 3 4 5 6 7 8 9 10");
    expect(percentile(ten, decimal("0.05"), 6)).toEqual({ value: decimal(1), clamped: true });
    expect(percentile(ten, decimal("0.95"), 6)).toEqual({ value: decimal(10), clamped: true });
    expect(percentile(ten, decimal(0), 7)).toEqual({ value: decimal(1), clamped: false });
    expect(percentile(ten, decimal(1), 7)).toEqual({ value: decimal(10), clamped: false });
    expect(percentile(decimals("4"), decimal("0.5"), 7)).toEqual({ value: decimal(4), clamped: false });
  });

  it("name what they cannot use", () => {
    expect(() => percentile([], decimal("0.5"), 7)).toThrow("values: must not be empty");
    expect(() => percentile(decimals("1"), decimal("1.2"), 7)).toThrow("p: must lie between 0 and 1");
    expect(interquartileRange(decimals("5"), 7).toString()).toBe("0");
  });
});

describe("percentiles by number, surface and volume", () => {
  it("by number at mid-rank are percentile type 5", () => {
    fc.assert(
      fc.property(lengths(1), share, (values, p) => {
        const weighted = weightedPercentile(values, "number", p, "mid-rank").value;
        expect(nearly(weighted, percentile(values, p, 5).value)).toBe(true);
      }),
    );
  });

  it("shift upwards from number to surface to volume", () => {
    fc.assert(
      fc.property(lengths(2), fc.constantFrom("step" as const, "mid-rank" as const), (values, rule) => {
        const at = (weight: "number" | "surface" | "volume") =>
          weightedPercentile(values, weight, decimal("0.5"), rule).value;
        expect(at("surface").plus("1e-20").greaterThanOrEqualTo(at("number"))).toBe(true);
        expect(at("volume").plus("1e-20").greaterThanOrEqualTo(at("surface"))).toBe(true);
      }),
    );
  });

  it("mark the ends that no particle reaches", () => {
    const two = decimals("1 3");
    expect(weightedPercentile(two, "number", decimal("0.1"), "mid-rank")).toEqual({
      value: decimal(1),
      clamped: true,
    });
    expect(weightedPercentile(two, "number", decimal("0.25"), "mid-rank").clamped).toBe(false);
    expect(weightedPercentile(two, "number", decimal("0.9"), "mid-rank").clamped).toBe(true);
    expect(weightedPercentile(two, "number", decimal("0.9"), "step").value.toString()).toBe("3");
  });

  it("warn when one particle decides: 10 of 1, 1, 10 carries more than a tenth of the volume", () => {
    const three = decimals("1 1 10");
    expect(nearly(largestParticleShare(three, "volume"), decimal(1000).div(1002))).toBe(true);
    expect(decidedByLargest(three, "volume", decimal("0.9"))).toBe(true);
    expect(decidedByLargest(decimals("5 5 5 5 5 5 5 5 5 5 5"), "volume", decimal("0.9"))).toBe(false);
  });

  it("name what they cannot use", () => {
    expect(() => weightedPercentile(decimals("1 0"), "volume", decimal("0.5"), "step")).toThrow(
      "diameters.1:",
    );
    expect(() => volumeSpan(decimal(1), decimal(0), decimal(2))).toThrow("d50: must be greater than zero");
  });
});

describe("moment means", () => {
  it("rise with their orders and lie within the sample", () => {
    fc.assert(
      fc.property(lengths(1), (values) => {
        const particles = countedOnce(values);
        const chain = [
          Decimal.min(...values),
          momentMean(particles, 1, 0),
          momentMean(particles, 2, 0),
          momentMean(particles, 3, 0),
          momentMean(particles, 3, 2),
          momentMean(particles, 4, 3),
          Decimal.max(...values),
        ];
        chain.slice(1).forEach((value, at) => {
          expect(value.times("1.00000000000001").greaterThanOrEqualTo(chain[at] ?? value)).toBe(true);
        });
      }),
    );
  });

  it("name what they cannot use", () => {
    expect(() => countedOnce([])).toThrow("diameters: must not be empty");
    expect(() => momentMean(countedOnce(decimals("1 2")), 2, 2)).toThrow("p: must be greater than q");
    expect(() => momentMean([{ diameter: decimal(1), count: decimal(0) }], 1, 0)).toThrow("particles:");
    expect(() => logNormalMomentMean(decimal(1), decimal("0.9"), 1, 0)).toThrow(
      "deviation: must be 1 or more",
    );
  });
});
