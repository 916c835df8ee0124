import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import { digitPreference } from "#core/statistics/digit-preference.ts";
import { studentQuantile } from "#core/statistics/distributions.ts";
import { readerAgreement, readerPrecision } from "#core/statistics/reader-agreement.ts";
import { sampleSize, specimensStillNeeded } from "#core/statistics/sample-size.ts";
import { nearly, readings } from "../../support/sample-arbitraries.ts";

describe("agreement of two readers", () => {
  it("turns its sign with the readers and keeps its technical error", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 1, max: 900 }), fc.integer({ min: 1, max: 900 })), {
          minLength: 2,
        }),
        (pairs) => {
          const a = pairs.map(([value]) => decimal(value).div(10));
          const b = pairs.map(([, value]) => decimal(value).div(10));
          const there = readerAgreement(a, b);
          const back = readerAgreement(b, a);
          expect(nearly(there.bias, back.bias.negated())).toBe(true);
          expect(nearly(there.limits.lower, back.limits.upper.negated())).toBe(true);
          expect(nearly(there.technicalError, back.technicalError)).toBe(true);
        },
      ),
    );
  });

  it("puts each limit inside its own interval, wider than that of the bias", () => {
    const found = readerAgreement(decimals("35.0 22.4 18.1 41.3"), decimals("35.3 22.5 18.0 41.7"));
    const width = (interval: { lower: typeof found.bias; upper: typeof found.bias }) =>
      interval.upper.minus(interval.lower);
    expect(found.lowerLimitInterval.lower.lessThan(found.limits.lower)).toBe(true);
    expect(width(found.upperLimitInterval).greaterThan(width(found.biasInterval))).toBe(true);
  });

  it("names what it cannot use", () => {
    expect(() => readerAgreement(decimals("1 2"), decimals("1"))).toThrow("first: needs at least 2");
    expect(() => readerPrecision([decimals("1 2")])).toThrow("readings: needs at least 2 readers");
  });

  it("never has less scatter between any readers than of one alone", () => {
    fc.assert(
      fc.property(fc.array(readings(2, 5), { minLength: 2, maxLength: 5 }), (study) => {
        const found = readerPrecision(study);
        expect(found.reproducibility.plus("1e-25").greaterThanOrEqualTo(found.repeatability)).toBe(true);
        expect(nearly(found.reproducibilityLimit, found.reproducibility.times("2.8"))).toBe(true);
      }),
    );
  });
});

describe("preference for final digits", () => {
  it("is found in readings that end in 0 and 5 (50 of 100 each: χ² 400)", () => {
    const halves = Array.from({ length: 100 }, (_, i) => decimal(i).div(2));
    const found = digitPreference(halves, 1);
    expect(found.counts).toEqual([50, 0, 0, 0, 0, 50, 0, 0, 0, 0]);
    expect(found.chiSquared.toString()).toBe("400");
    expect(found.preferred).toEqual([0, 5]);
    expect(found.p).toBeLessThan(1e-70);
    expect(found.reliable).toBe(true);
  });

  it("is not found where each digit occurs equally often, nor where only halves can be read", () => {
    const tenths = Array.from({ length: 100 }, (_, i) => decimal(i).div(10));
    expect(digitPreference(tenths, 1)).toMatchObject({ p: 1, degrees: 9, preferred: [] });
    const halves = Array.from({ length: 40 }, (_, i) => decimal(i).div(2));
    expect(digitPreference(halves, 1, [0, 5])).toMatchObject({ p: 1, degrees: 1 });
  });

  it("names what it cannot use", () => {
    expect(() => digitPreference(decimals("1.23 1.2"), 1)).toThrow(
      "readings.0: has more than 1 decimal places",
    );
    expect(() => digitPreference(decimals("1.0 1.3"), 1, [0, 5])).toThrow(
      "readings.1: ends in 3, which cannot occur",
    );
    expect(() => digitPreference(decimals("1.0 1.3"), 1, [0, 12])).toThrow("possible: must be digits 0 to 9");
  });
});

describe("how many specimens", () => {
  it("is the smallest number that reaches the half-width with Student's t", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 80 }), fc.integer({ min: 1, max: 40 }), (cv, wanted) => {
        const { student } = sampleSize(decimal(cv), decimal(wanted));
        const half = (n: number) => (studentQuantile(0.975, n - 1) * cv) / Math.sqrt(n);
        expect(student).toBeGreaterThanOrEqual(2);
        expect(half(student)).toBeLessThanOrEqual(wanted * (1 + 1e-12));
        if (student > 2) expect(half(student - 1)).toBeGreaterThan(wanted * (1 - 1e-12));
      }),
    );
  });

  it("counts what is still missing, and nothing when it is reached", () => {
    // CV 10 %, ± 5 %: 18 specimens.
    expect(specimensStillNeeded(10, decimal(20), decimal(2), decimal("0.05"))).toBe(8);
    expect(specimensStillNeeded(30, decimal(20), decimal(2), decimal("0.05"))).toBe(0);
    expect(specimensStillNeeded(3, decimal(20), decimal(0), decimal("0.05"))).toBe(0);
  });

  it("names what it cannot use", () => {
    expect(() => sampleSize(decimal(0), decimal(5))).toThrow("spread: must be greater than zero");
    expect(() => sampleSize(decimal(50), decimal("0.0001"))).toThrow("halfWidth: asks for more than");
    expect(() => specimensStillNeeded(5, decimal(0), decimal(1), decimal("0.1"))).toThrow(
      "mean: must not be zero",
    );
  });
});
