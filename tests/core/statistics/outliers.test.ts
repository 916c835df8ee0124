import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import { generalizedEsd } from "#core/statistics/generalized-esd.ts";
import { GRUBBS_SIDES, grubbs, grubbsCritical } from "#core/statistics/grubbs.ts";
import { nearly, readings } from "../../support/sample-arbitraries.ts";

describe("Grubbs' test", () => {
  it("gives the same statistic after a shift and a scale, and never more than (n − 1)/√n", () => {
    fc.assert(
      fc.property(readings(3), fc.constantFrom(...GRUBBS_SIDES), (values, side) => {
        const plain = grubbs(values, 0.05, side);
        const moved = grubbs(
          values.map((value) => value.times(3).plus(100)),
          0.05,
          side,
        );
        expect(nearly(plain.statistic, moved.statistic, "1e-12")).toBe(true);
        const most = (values.length - 1) / Math.sqrt(values.length);
        expect(plain.statistic.toNumber()).toBeLessThanOrEqual(most + 1e-9);
        expect(plain.flagged).toBe(plain.statistic.greaterThan(plain.critical));
      }),
    );
  });

  it("has p equal to the level exactly at its critical value", () => {
    // Symmetric values with one placed so that G is the critical value: solved by bisection on the odd one.
    const base = decimals("-2 -1 0 1 2");
    const criticalG = grubbsCritical(6, 0.05, "either");
    let [low, high] = [2, 20];
    for (let step = 0; step < 60; step += 1) {
      const middle = (low + high) / 2;
      const { statistic } = grubbs([...base, decimal(middle)], 0.05);
      if (statistic.lessThan(criticalG)) low = middle;
      else high = middle;
    }
    expect(grubbs([...base, decimal(high)], 0.05).p).toBeCloseTo(0.05, 10);
  });

  it("flags and keeps: the sample is left as it was", () => {
    const values = decimals("35 41 37 47 43 45 70 46 40 29");
    const before = values.join(" ");
    expect(grubbs(values)).toMatchObject({ index: 6, flagged: true });
    expect(values.join(" ")).toBe(before);
    expect(grubbs(values, 0.05, "smallest")).toMatchObject({ index: 9, flagged: false });
  });

  it("flags nothing in equal values", () => {
    expect(grubbs(decimals("5 5 5"))).toMatchObject({ flagged: false, p: 1 });
  });

  it("names what it cannot use", () => {
    expect(() => grubbs(decimals("1 2"))).toThrow("values: needs at least 3 values, got 2");
    expect(() => grubbs(decimals("1 2 3"), 0)).toThrow("level: must be greater than 0");
    expect(() => grubbsCritical(2, 0.05, "either")).toThrow("n: must be a whole number, 3 or more");
  });
});

describe("the generalized test for several outliers", () => {
  it("sees two that hide each other from Grubbs' test", () => {
    const values = decimals("10.1 10.0 9.9 10.2 9.8 10.1 10.0 9.9 10.1 10.0 14.8 15.0");
    expect(grubbs(values).flagged).toBe(false);
    expect(generalizedEsd(values, 3).flagged).toEqual([11, 10]);
  });

  it("names what it cannot use", () => {
    expect(() => generalizedEsd(decimals("1 2 3"), 2)).toThrow("most: must be at most 1 for 3 values");
    expect(() => generalizedEsd(decimals("1 2 3"), 0)).toThrow("most: must be a whole number, 1 or more");
  });
});
