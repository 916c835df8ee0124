import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  countPrecision,
  garwoodInterval,
  shortcutPrecision,
  zeroCountUpperLimit,
} from "#core/counting/intervals/poisson-interval.ts";

const counts = fc.integer({ min: 0, max: 20_000 });
const levels = fc.double({ min: 0.5, max: 0.9999, noNaN: true });

/** P(X = k) of a Poisson mean, by logarithms. */
function poissonPmf(k: number, mean: number): number {
  let log = -mean + k * Math.log(mean);
  for (let i = 2; i <= k; i += 1) log -= Math.log(i);
  return Math.exp(log);
}

describe("exact limits of a count", () => {
  it("contain the count", () => {
    fc.assert(
      fc.property(counts, levels, (count, level) => {
        const { lower, upper } = garwoodInterval(count, level);
        expect(lower).toBeLessThanOrEqual(count);
        expect(upper).toBeGreaterThan(count);
      }),
    );
  });

  it("widen with the level", () => {
    fc.assert(
      fc.property(counts, levels, levels, (count, one, other) => {
        fc.pre(Math.abs(one - other) > 1e-6);
        const narrow = garwoodInterval(count, Math.min(one, other));
        const wide = garwoodInterval(count, Math.max(one, other));
        expect(wide.upper).toBeGreaterThan(narrow.upper);
        expect(wide.lower).toBeLessThanOrEqual(narrow.lower);
      }),
    );
  });

  it("rise with the count, over the change of method at 200 as well", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2000 }), (count) => {
        const one = garwoodInterval(count);
        const next = garwoodInterval(count + 1);
        expect(next.lower).toBeGreaterThan(one.lower);
        expect(next.upper).toBeGreaterThan(one.upper);
      }),
    );
  });

  it.each([0.7, 2, 5.5, 13, 40])("hold their level for a mean of %d: all counts summed", (mean) => {
    let covered = 0;
    for (let count = 0; count <= 200; count += 1) {
      const { lower, upper } = garwoodInterval(count);
      if (lower <= mean && mean <= upper) covered += poissonPmf(count, mean);
    }
    expect(covered).toBeGreaterThanOrEqual(0.95);
  });

  it("begin at zero for a count of zero, where one side is enough for the limit", () => {
    expect(garwoodInterval(0).lower).toBe(0);
    expect(zeroCountUpperLimit(0.95)).toBeLessThan(garwoodInterval(0, 0.95).upper);
    expect(zeroCountUpperLimit(0.95)).toBeCloseTo(garwoodInterval(0, 0.9).upper, 12);
  });

  it("say that a half fibre makes them an interpolation", () => {
    const half = garwoodInterval(37.5);
    expect(half.exact).toBe(false);
    expect(garwoodInterval(37).exact).toBe(true);
    expect(half.upper).toBeGreaterThan(garwoodInterval(37).upper);
    expect(half.upper).toBeLessThan(garwoodInterval(38).upper);
  });

  it.each([-1, 0.3001, Number.NaN, Number.POSITIVE_INFINITY])(
    "refuse a count of %d at its field",
    (count) => {
      expect(() => garwoodInterval(count)).toThrow(/^count: must be a count/);
    },
  );

  it.each([0, 1, 1.2, Number.NaN])("refuse a level of %d at its field", (level) => {
    expect(() => garwoodInterval(5, level)).toThrow(/^level: must be greater than 0/);
    expect(() => zeroCountUpperLimit(level)).toThrow(/^level: /);
  });
});

describe("the shortcut 2/√n", () => {
  it("is always marked optimistic and gives nothing for a count of zero", () => {
    expect(shortcutPrecision(400)).toMatchObject({ relativeHalfWidth: 0.1, optimistic: true });
    expect(shortcutPrecision(0)).toMatchObject({ relativeHalfWidth: null, optimistic: true });
    expect(shortcutPrecision(0).caution).toContain("optimistic");
    expect(countPrecision(0)).toBeNull();
  });

  it("is narrower than the longer side of the exact limits up to 1500 objects", () => {
    for (let count = 1; count <= 1500; count += 7) {
      expect(shortcutPrecision(count).relativeHalfWidth ?? 0).toBeLessThan(
        (countPrecision(count)?.above ?? 0) * 1.01,
      );
    }
  });
});
