import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  PROPORTION_METHODS,
  proportionInterval,
  zeroProportionUpperLimit,
} from "#core/counting/intervals/proportion-interval.ts";
import { binomialPmf } from "#core/statistics/distributions.ts";

const parts = fc
  .integer({ min: 1, max: 2000 })
  .chain((n) => fc.record({ n: fc.constant(n), r: fc.integer({ min: 0, max: n }) }));

describe.each(PROPORTION_METHODS)("limits of a proportion by %s", (method) => {
  it("lie in 0…1 and contain the proportion", () => {
    fc.assert(
      fc.property(parts, ({ r, n }) => {
        const { lower, upper, proportion } = proportionInterval(r, n, method);
        expect(lower).toBeGreaterThanOrEqual(0);
        expect(upper).toBeLessThanOrEqual(1);
        expect(lower).toBeLessThanOrEqual(proportion);
        expect(upper).toBeGreaterThanOrEqual(proportion);
      }),
    );
  });

  it("mirror each other for the part and the rest", () => {
    fc.assert(
      fc.property(parts, ({ r, n }) => {
        const part = proportionInterval(r, n, method);
        const rest = proportionInterval(n - r, n, method);
        expect(rest.lower).toBeCloseTo(1 - part.upper, 9);
        expect(rest.upper).toBeCloseTo(1 - part.lower, 9);
      }),
    );
  });

  it("widen with the level", () => {
    fc.assert(
      fc.property(parts, ({ r, n }) => {
        const narrow = proportionInterval(r, n, method, 0.9);
        const wide = proportionInterval(r, n, method, 0.99);
        expect(wide.upper - wide.lower).toBeGreaterThanOrEqual(narrow.upper - narrow.lower);
      }),
    );
  });

  it("name what cannot be", () => {
    expect(() => proportionInterval(1, 0, method)).toThrow(/^n: must be at least 1/);
    expect(() => proportionInterval(6, 5, method)).toThrow(/^r: must not be more/);
    expect(() => proportionInterval(1.3005, 5, method)).toThrow(/^r: must be a (whole|count)/);
    expect(() => proportionInterval(1, 5, method, 1)).toThrow(/^level: /);
  });
});

describe("half grains", () => {
  it("are taken by Wilson, between their neighbours, and by no method that is exact for whole counts", () => {
    const half = proportionInterval(1.5, 5);
    expect(half.lower).toBeGreaterThan(proportionInterval(1, 5).lower);
    expect(half.upper).toBeLessThan(proportionInterval(2, 5).upper);
    expect(() => proportionInterval(1.5, 5, "clopper-pearson")).toThrow(/^r: must be a whole/);
  });
});

describe("the guaranteed level", () => {
  const coverage = (method: "clopper-pearson" | "wald", p: number, n: number) => {
    let covered = 0;
    for (let r = 0; r <= n; r += 1) {
      const { lower, upper } = proportionInterval(r, n, method);
      if (lower <= p && p <= upper) covered += binomialPmf(r, n, p);
    }
    return covered;
  };

  it.each([0.01, 0.1, 0.31, 0.5, 0.77])("is held by Clopper–Pearson at p = %d: all outcomes summed", (p) => {
    expect(coverage("clopper-pearson", p, 25)).toBeGreaterThanOrEqual(0.95);
  });

  it("is missed by Wald for rare classes, which is why it is for comparison only", () => {
    expect(coverage("wald", 0.03, 50)).toBeLessThan(0.85);
  });

  it("for none found in n lies below the two-sided limit", () => {
    expect(zeroProportionUpperLimit(250)).toBeLessThan(proportionInterval(0, 250, "clopper-pearson").upper);
    expect(() => zeroProportionUpperLimit(0)).toThrow(/^n: /);
  });
});
