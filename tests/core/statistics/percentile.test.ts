import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Decimal, decimal } from "#core/quantity/decimal.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import { normalQuantile } from "#core/statistics/distributions.ts";
import { momentMean } from "#core/statistics/moment-mean.ts";
import { PERCENTILE_TYPES, percentile } from "#core/statistics/percentile.ts";
import { byVolume, largestShare, volumePercentile } from "#core/statistics/volume-percentile.ts";
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
  });
});

/**
 * Diameters at the mid-ranks of a log-normal distribution: median 10, geometric standard deviation 1.5. A sample without
 * chance in it, for which T. Hatch and S. P. Choate: Statistical description of the size properties of non-uniform
 * particulate substances, J. Franklin Institute 207 (1929) 369 (from memory), give every mean and percentile.
 */
const LOG = Math.log(1.5);
const logNormal = Array.from({ length: 4000 }, (_, at) =>
  decimal(10 * Math.exp(LOG * normalQuantile((at + 0.5) / 4000))),
);

/** What 4,000 particles lack of the tails of a distribution without end. */
const TAILS = 0.006;

describe("percentiles by volume", () => {
  const at = (values: readonly Decimal[], p: string) => volumePercentile(byVolume(values), decimal(p));

  it("of a log-normal distribution are where Hatch and Choate put them", () => {
    for (const p of [0.1, 0.5, 0.9]) {
      const expected = 10 * Math.exp(3 * LOG ** 2 + normalQuantile(p) * LOG);
      expect(at(logNormal, String(p)).value.div(expected).minus(1).abs().toNumber()).toBeLessThan(TAILS);
    }
  });

  it("of equal particles are the particle; of different ones lie above those by number", () => {
    expect(at(decimals("5 5 5"), "0.5").value.toString()).toBe("5");
    fc.assert(
      fc.property(lengths(2), (values) => {
        const plain = percentile(values, decimal("0.5"), 5).value;
        expect(at(values, "0.5").value.plus("1e-20").greaterThanOrEqualTo(plain)).toBe(true);
      }),
    );
  });

  it("mark the ends that no particle reaches", () => {
    const two = decimals("2 2");
    expect(at(two, "0.1")).toEqual({ value: decimal(2), clamped: true });
    expect(at(two, "0.25").clamped).toBe(false);
    expect(at(two, "0.9").clamped).toBe(true);
  });

  it("know what the largest particle carries: 10 beside 1 and 1 is nearly all of the volume", () => {
    expect(nearly(largestShare(byVolume(decimals("1 1 10"))), decimal(1000).div(1002))).toBe(true);
  });

  it("name what they cannot use", () => {
    expect(() => byVolume(decimals("1 0"))).toThrow("diameters.1:");
    expect(() => byVolume([])).toThrow("diameters: must not be empty");
    expect(() => at(decimals("1"), "1.5")).toThrow("p: must lie between 0 and 1");
  });
});

describe("moment means", () => {
  it("of a log-normal distribution are those of Hatch and Choate", () => {
    for (const [p, q] of [
      [1, 0],
      [2, 0],
      [3, 2],
      [4, 3],
    ] as const) {
      const expected = 10 * Math.exp(((p + q) / 2) * LOG ** 2);
      expect(momentMean(logNormal, p, q).div(expected).minus(1).abs().toNumber()).toBeLessThan(TAILS);
    }
  });

  it("rise with their orders and lie within the sample", () => {
    fc.assert(
      fc.property(lengths(1), (values) => {
        const chain = [
          Decimal.min(...values),
          momentMean(values, 1, 0),
          momentMean(values, 2, 0),
          momentMean(values, 3, 0),
          momentMean(values, 3, 2),
          momentMean(values, 4, 3),
          Decimal.max(...values),
        ];
        chain.slice(1).forEach((value, at) => {
          expect(value.times("1.00000000000001").greaterThanOrEqualTo(chain[at] ?? value)).toBe(true);
        });
      }),
    );
  });

  it("name what they cannot use", () => {
    expect(() => momentMean([], 1, 0)).toThrow("diameters: must not be empty");
    expect(() => momentMean(decimals("1 0"), 1, 0)).toThrow("diameters.1:");
    expect(() => momentMean(decimals("1 2"), 2, 2)).toThrow("p: must be greater than q");
  });
});
