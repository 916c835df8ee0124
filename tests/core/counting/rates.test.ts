import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareCounts } from "#core/counting/intervals/compare-counts.ts";
import { compareRates, exactBinomialP, rateInterval } from "#core/counting/intervals/poisson-rate.ts";

const counted = fc.record({
  count: fc.integer({ min: 0, max: 300 }),
  exposure: fc.double({ min: 0.01, max: 1000, noNaN: true }),
});

describe("two rates", () => {
  it("turn over when they change places", () => {
    fc.assert(
      fc.property(counted, counted, (first, second) => {
        const forth = compareRates(first, second);
        const back = compareRates(second, first);
        expect(back.p).toBeCloseTo(forth.p, 6);
        if (forth.upper === null) expect(back.lower).toBe(0);
        else expect(back.lower * forth.upper).toBeCloseTo(1, 6);
      }),
    );
  });

  it("have limits on both sides of their ratio", () => {
    fc.assert(
      fc.property(counted, counted, (first, second) => {
        const { ratio, lower, upper } = compareRates(first, second);
        if (ratio === null) return;
        expect(lower).toBeLessThanOrEqual(ratio);
        expect(upper ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(ratio);
      }),
    );
  });

  it("say nothing of a ratio to a count of zero, but keep the lower limit", () => {
    const comparison = compareRates({ count: 5, exposure: 1 }, { count: 0, exposure: 1 });
    expect(comparison).toMatchObject({ ratio: null, upper: null, p: 0.0625 });
    expect(comparison.lower).toBeGreaterThan(0.9);
    expect(compareRates({ count: 0, exposure: 1 }, { count: 0, exposure: 2 })).toMatchObject({
      ratio: null,
      lower: 0,
      upper: null,
      p: 1,
    });
  });

  it("refuse what is no count and no exposure, at the field", () => {
    const good = { count: 5, exposure: 1 };
    expect(() => compareRates({ count: 1.5, exposure: 1 }, good)).toThrow(/^first\.count: must be a whole/);
    expect(() => compareRates(good, { count: -1, exposure: 1 })).toThrow(/^second\.count: /);
    expect(() => compareRates(good, { count: 1, exposure: 0 })).toThrow(/^second\.exposure: must be greater/);
    expect(() => rateInterval(5, 0)).toThrow(/^exposure: /);
    expect(() => rateInterval(5, Number.POSITIVE_INFINITY)).toThrow(/^exposure: /);
    expect(() => exactBinomialP(6, 5, 0.5)).toThrow(/^k: must not be more than n/);
  });
});

describe("two counts", () => {
  it("give z by (b − a)/√(a + b) on equal areas and the same p by χ²", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500 }), fc.integer({ min: 0, max: 500 }), (a, b) => {
        const result = compareCounts({ count: a, exposure: 2 }, { count: b, exposure: 2 });
        expect(result.z).toBeCloseTo((b - a) / Math.sqrt(a + b), 10);
        expect(result.chiSquaredP).toBeCloseTo(result.normalP, 10);
      }),
    );
  });

  it("differ only when the exact p says so", () => {
    expect(compareCounts({ count: 58, exposure: 1 }, { count: 83, exposure: 1 }).differs).toBe(true);
    expect(compareCounts({ count: 112, exposure: 1 }, { count: 138, exposure: 1 }).differs).toBe(false);
    expect(compareCounts({ count: 0, exposure: 1 }, { count: 0, exposure: 1 })).toMatchObject({
      z: null,
      exactP: 1,
    });
  });

  it("take the exposures into account", () => {
    const twice = compareCounts({ count: 50, exposure: 1 }, { count: 100, exposure: 2 });
    expect(twice.z).toBeCloseTo(0, 12);
    expect(twice.exactP).toBeGreaterThan(0.9);
  });
});
