import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import { median, medianAbsoluteDeviation, standardDeviation } from "#core/statistics/sample.ts";
import { type Summary, summarise } from "#core/statistics/summary.ts";
import { lengths, nearly, reading, readings } from "../../support/sample-arbitraries.ts";

describe("a summary", () => {
  it("does not depend on the order of the rows", () => {
    fc.assert(
      fc.property(readings(1), (values) => {
        const backwards = summarise([...values].reverse());
        const turned = summarise([...values.slice(1), ...values.slice(0, 1)]);
        const given = summarise(values);
        expect(nearly(given.mean, turned.mean)).toBe(true);
        expect(given.n).toBe(backwards.n);
        expect(given.median.equals(backwards.median)).toBe(true);
        expect(nearly(given.variance ?? decimal(0), backwards.variance ?? decimal(0))).toBe(true);
      }),
    );
  });

  it("moves with a shift and grows with a scale", () => {
    fc.assert(
      fc.property(readings(2), reading, fc.integer({ min: 1, max: 50 }), (values, shift, scale) => {
        const base = summarise(values);
        const moved = summarise(values.map((value) => value.times(scale).plus(shift)));
        expect(nearly(moved.mean, base.mean.times(scale).plus(shift))).toBe(true);
        expect(nearly(moved.median, base.median.times(scale).plus(shift))).toBe(true);
        const s = base.deviation ?? decimal(0);
        expect(nearly(moved.deviation ?? decimal(0), s.times(scale), "1e-15")).toBe(true);
        expect(nearly(moved.medianAbsoluteDeviation, base.medianAbsoluteDeviation.times(scale))).toBe(true);
      }),
    );
  });

  it("scales the geometric mean and leaves the geometric deviation and the CV alone", () => {
    fc.assert(
      fc.property(lengths(2), fc.integer({ min: 2, max: 9 }), (values, scale) => {
        const base = summarise(values);
        const scaled = summarise(values.map((value) => value.times(scale)));
        const mean = (summary: Summary) => summary.geometric?.mean ?? decimal(0);
        const spread = (summary: Summary) => summary.geometric?.deviation ?? decimal(0);
        expect(nearly(mean(scaled), mean(base).times(scale), "1e-12")).toBe(true);
        expect(nearly(spread(scaled), spread(base), "1e-9")).toBe(true);
        expect(
          nearly(scaled.coefficientOfVariation ?? decimal(0), base.coefficientOfVariation ?? decimal(0)),
        ).toBe(true);
      }),
    );
  });

  it("keeps minimum ≤ harmonic ≤ geometric ≤ arithmetic mean ≤ maximum", () => {
    fc.assert(
      fc.property(lengths(1), (values) => {
        const { minimum, harmonicMean, geometric, mean, maximum } = summarise(values);
        const order = [minimum, harmonicMean ?? minimum, geometric?.mean ?? minimum, mean, maximum];
        order.slice(1).forEach((value, at) => {
          expect(value.times("1.0000000001").greaterThanOrEqualTo(order[at] ?? value)).toBe(true);
        });
      }),
    );
  });

  it("has a wider interval at a higher level", () => {
    const values = decimals("12.4 15.1 9.8 18.7");
    const width = (level: number) => {
      const interval = summarise(values, level).meanInterval;
      return interval === null ? decimal(0) : interval.upper.minus(interval.lower);
    };
    expect(width(0.99).greaterThan(width(0.95))).toBe(true);
  });

  it("of one value says nothing about spread", () => {
    const one = summarise(decimals("35.3"));
    expect(one).toMatchObject({
      n: 1,
      variance: null,
      deviation: null,
      standardError: null,
      meanInterval: null,
    });
    expect(one.shape).toBeNull();
    expect(one.geometric?.deviation).toBeNull();
  });

  it("of equal values has no spread, no shape and no interval of σ, and divides by nothing", () => {
    const equal = summarise(decimals("35.3 35.3 35.3 35.3"));
    expect(equal.deviation?.isZero()).toBe(true);
    expect(equal).toMatchObject({ shape: null, lagOneAutocorrelation: null, deviationInterval: null });
    expect(equal.meanInterval?.lower.toString()).toBe("35.3");
  });

  it("has no geometric or harmonic mean once a value is zero or below", () => {
    expect(summarise(decimals("1 2 0"))).toMatchObject({ geometric: null, harmonicMean: null });
    expect(summarise(decimals("-1 1")).coefficientOfVariation).toBeNull();
  });

  it("names what it cannot use", () => {
    expect(() => summarise([])).toThrow("values: must not be empty");
    expect(() => summarise([decimal(1), decimal(Number.NaN)])).toThrow("values.1: is not a finite number");
    expect(() => summarise(decimals("1 2"), 1)).toThrow("level: must be greater than 0 and less than 1");
    expect(() => standardDeviation(decimals("1"))).toThrow("values: needs at least 2 values, got 1");
  });
});

describe("the median", () => {
  it("is the middle value, or between the two middle ones", () => {
    expect(median(decimals("3 1 2")).toString()).toBe("2");
    expect(median(decimals("4 1 3 2")).toString()).toBe("2.5");
    expect(medianAbsoluteDeviation(decimals("1 1 2 2 4 6 9")).toString()).toBe("1");
  });
});
