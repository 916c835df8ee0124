import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimal, ONE, ZERO } from "#core/quantity/decimal.ts";
import { InputError } from "#core/quantity/input-error.ts";
import {
  combinedUncertainty,
  correlatedUncertainty,
  effectiveDegreesOfFreedom,
} from "#core/uncertainty/combine.ts";
import { conformityDecision, conformityProbability } from "#core/uncertainty/conformity.ts";
import { coverageFactor, truncatedDegreesOfFreedom } from "#core/uncertainty/coverage.ts";
import { rectangular, trapezoidal } from "#core/uncertainty/type-b.ts";

const contribution = fc
  .tuple(fc.integer({ min: 1, max: 1_000_000 }), fc.integer({ min: 1, max: 200 }))
  .map(([u, nu]) => ({ contribution: decimal(u).div(1000), degreesOfFreedom: decimal(nu) }));
const contributions = fc.array(contribution, { minLength: 1, maxLength: 8 });

describe("combined uncertainty", () => {
  it("lies between the largest contribution and their sum", () => {
    fc.assert(
      fc.property(contributions, (parts) => {
        const values = parts.map((one) => one.contribution.toNumber());
        const combined = combinedUncertainty(parts).toNumber();
        expect(combined).toBeGreaterThanOrEqual(Math.max(...values) * (1 - 1e-12));
        expect(combined).toBeLessThanOrEqual(values.reduce((a, b) => a + b, 0) * (1 + 1e-12));
      }),
    );
  });

  it("has between the fewest and the total degrees of freedom of its parts", () => {
    fc.assert(
      fc.property(contributions, (parts) => {
        const nus = parts.map((one) => one.degreesOfFreedom.toNumber());
        const nu = effectiveDegreesOfFreedom(parts)?.toNumber() ?? Number.POSITIVE_INFINITY;
        expect(nu).toBeGreaterThanOrEqual(Math.min(...nus) * (1 - 1e-12));
        expect(nu).toBeLessThanOrEqual(nus.reduce((a, b) => a + b, 0) * (1 + 1e-12));
      }),
    );
  });

  it("has infinite degrees of freedom when every part does, or all parts are zero", () => {
    expect(effectiveDegreesOfFreedom([{ contribution: ONE, degreesOfFreedom: null }])).toBeNull();
    expect(effectiveDegreesOfFreedom([{ contribution: ZERO, degreesOfFreedom: decimal(3) }])).toBeNull();
  });

  it("adds fully correlated inputs and cancels opposed ones", () => {
    const u = [decimal(3), decimal(4)];
    const full = [
      [ONE, ONE],
      [ONE, ONE],
    ];
    expect(correlatedUncertainty([ONE, ONE], u, full).toString()).toBe("7");
    expect(correlatedUncertainty([ONE, decimal(-1)], u, full).toString()).toBe("1");
    const none = [
      [ONE, ZERO],
      [ZERO, ONE],
    ];
    expect(correlatedUncertainty([ONE, ONE], u, none).toString()).toBe("5");
  });

  it("names the contribution or correlation that is wrong", () => {
    expect(() => combinedUncertainty([{ contribution: decimal(-1), degreesOfFreedom: null }])).toThrow(
      /^contributions\.0\.contribution: /,
    );
    expect(() => effectiveDegreesOfFreedom([{ contribution: ONE, degreesOfFreedom: ZERO }])).toThrow(
      /^contributions\.0\.degreesOfFreedom: /,
    );
    expect(() => correlatedUncertainty([ONE], [ONE], [[decimal(2)]])).toThrow(/^correlation\.0\.0: /);
    expect(() => correlatedUncertainty([ONE, ONE], [ONE], [[ONE]])).toThrow(InputError);
  });
});

describe("coverage factor", () => {
  it("truncates the degrees of freedom and never asks for fewer than one", () => {
    expect(coverageFactor("t95", decimal("16.99")).equals(coverageFactor("t95", decimal(16)))).toBe(true);
    expect(coverageFactor("t95", decimal("0.4")).equals(coverageFactor("t95", ONE))).toBe(true);
  });

  it("keeps a whole number of degrees of freedom that the arithmetic brought a last digit too low", () => {
    // u = √0.015 of two degrees of freedom gives 1.999…9 (invented inputs); alone, a contribution keeps its own ν (G.2b).
    const low = effectiveDegreesOfFreedom([
      { contribution: decimal("0.015").sqrt(), degreesOfFreedom: decimal(2) },
    ]);
    expect(low?.lessThan(2)).toBe(true);
    expect(truncatedDegreesOfFreedom(low ?? ZERO)).toBe(2);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1_000_000 }), fc.integer({ min: 1, max: 500 }), (square, nu) => {
        const one = { contribution: decimal(square).div(1000).sqrt(), degreesOfFreedom: decimal(nu) };
        const alone = effectiveDegreesOfFreedom([one]) ?? ZERO;
        expect(truncatedDegreesOfFreedom(alone)).toBe(nu);
        // Two equal contributions share their ν out evenly: (2u²)²/(2u⁴/ν) = 2ν.
        expect(truncatedDegreesOfFreedom(effectiveDegreesOfFreedom([one, one]) ?? ZERO)).toBe(2 * nu);
      }),
    );
  });

  it("takes for a whole number only what lies within the guard of it", () => {
    expect(truncatedDegreesOfFreedom(decimal("8.999999998"))).toBe(8);
    expect(truncatedDegreesOfFreedom(decimal("8.9999999991"))).toBe(9);
    expect(truncatedDegreesOfFreedom(decimal("0.3"))).toBe(1);
  });

  it("falls as the degrees of freedom grow, towards the normal quantile", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100_000 }), (nu) => {
        const here = coverageFactor("t95", decimal(nu)).toNumber();
        expect(coverageFactor("t95", decimal(nu + 1)).toNumber()).toBeLessThan(here);
        expect(here).toBeGreaterThan(coverageFactor("t95", null).toNumber());
      }),
    );
  });

  it("is 2 by the other rule, whatever the degrees of freedom", () => {
    expect(coverageFactor("k2", ONE).toString()).toBe("2");
  });
});

describe("type B and conformity", () => {
  it("refuses a half-width below zero and a trapezoid wider at the top", () => {
    expect(() => rectangular(decimal(-1))).toThrow(/^halfWidth: /);
    expect(() => trapezoidal(ONE, decimal("1.1"))).toThrow(/^beta: /);
  });

  it("accepts with a guard only what keeps the limits by U", () => {
    const limits = { lower: decimal("9.9"), upper: decimal("10.1") };
    const found = (value: string) => ({
      value: decimal(value),
      standardUncertainty: decimal("0.025"),
      expanded: decimal("0.05"),
    });
    expect(conformityDecision(found("10.05"), limits, "guarded-acceptance").conforms).toBe(true);
    expect(conformityDecision(found("10.051"), limits, "guarded-acceptance").conforms).toBe(false);
    expect(conformityDecision(found("10.1"), limits, "simple-acceptance").conforms).toBe(true);
    // At the guarded limit, one U = 2u inside: Φ(2) − Φ(−6), tabulated normal distribution.
    expect(conformityDecision(found("10.05"), limits, "guarded-acceptance").probability).toBeCloseTo(
      0.97725,
      5,
    );
    const below = { lower: null, upper: decimal("10.1") };
    expect(conformityDecision(found("3"), below, "guarded-acceptance")).toMatchObject({ conforms: true });
    expect(() => conformityProbability(ONE, ONE, { lower: null, upper: null })).toThrow(/^limits: /);
    expect(conformityProbability(decimal("10.1"), decimal("0.01"), limits)).toBeCloseTo(0.5, 12);
    expect(() => conformityProbability(ONE, ONE, { lower: ONE, upper: ONE })).toThrow(/^limits\.upper: /);
    expect(() => conformityProbability(ONE, ZERO, limits)).toThrow(/^standardUncertainty: /);
  });
});
