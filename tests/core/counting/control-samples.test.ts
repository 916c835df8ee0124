import { describe, expect, it } from "vitest";
import {
  blankChance,
  blankLimit,
  differenceLimit,
  predictionLimits,
} from "#core/counting/controls/control-limits.ts";
import { objectsFound, recoveryOf, relativeDifference } from "#core/counting/controls/recovery.ts";
import { decimal, ONE, ZERO } from "#core/quantity/decimal.ts";
import { binomialPmf } from "#core/statistics/distributions.ts";
import { type ControlModel, controlRates, limitAgrees } from "../../support/simulated-controls.ts";
import { drawnFields, uniformFrom } from "../../support/simulated-fields.ts";

const blank: ControlModel = { kind: "blank", means: [2], extra: 0 };
const recovery: ControlModel = { kind: "recovery", means: [100], extra: 0.1 };
const duplicate: ControlModel = { kind: "duplicate", means: [100], extra: 0 };

describe("limits from the earlier ones", () => {
  it.each([
    ["a blank", blank, 6],
    ["a recovery", recovery, 0.5],
    ["a duplicate", duplicate, 2],
  ] as const)(
    "name %s with nothing wrong in about 1 of 100, and one that is wrong",
    (_, model, wrong) => {
      const { alarms, found } = controlRates(model, wrong, 300, 5);
      expect(alarms).toBeLessThan(0.02);
      expect(found).toBeGreaterThan(0.75);
    },
    60_000,
  );

  it("are drawn where they decide", () => {
    for (const before of [0, 1, 7, 60]) {
      for (let objects = 0; objects < 50; objects += 1) expect(limitAgrees(objects, before)).toBe(true);
    }
  });

  it("are none below six", () => {
    expect(predictionLimits([1, 2, 3, 4, 5].map(decimal))).toBeNull();
  });

  it("are none while all earlier ones agree: the next is not accused of differing", () => {
    const same = [1, 1, 1, 1, 1, 1, 1].map(decimal);
    expect(predictionLimits(same)).toBeNull();
    expect(differenceLimit(same.map(() => ZERO))).toBeNull();
    expect(predictionLimits([...same, decimal(2)])).not.toBeNull();
  });

  it("of a blank come from the sum of the binomial probabilities", () => {
    for (const [found, before] of [
      [1, 0],
      [3, 4],
      [12, 7],
      [40, 90],
    ] as const) {
      const all = found + before;
      const tail = Array.from({ length: before + 1 }, (_, i) => binomialPmf(found + i, all, 0.25));
      const chance = blankChance([{ objects: decimal(before), areas: 30 }], {
        objects: decimal(found),
        areas: 10,
      });
      expect(chance / tail.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 9);
    }
  });

  it("of a blank with very many objects come at once, where the normal law has them", () => {
    const most = blankLimit([{ objects: decimal(200_000), areas: 40 }], 10);
    // k·q − p·N = z·√(p·q·(k + N)), p = 1/5, N = 200,000
    expect(most?.toNumber()).toBeGreaterThan(50_570);
    expect(most?.toNumber()).toBeLessThan(50_592);
  });
});

describe("the limits of a recovery", () => {
  it.each([
    [5, 0, 0],
    [50, 0, 0.05],
    [50, 10, 0.05],
  ])("hold the true one of %i objects over %i in 95 of 100 or more", (mean, background, doubt) => {
    const uniform = uniformFrom(11);
    const stated = 100;
    const trials = 2000;
    let held = 0;
    for (let trial = 0; trial < trials; trial += 1) {
      const [found = 0] = drawnFields({ mean: mean + background, exponent: null }, 1, uniform);
      const [before = 0] =
        background === 0 ? [0] : drawnFields({ mean: background, exponent: null }, 1, uniform);
      const error = Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
      const value = decimal(stated * (1 + doubt * error));
      const standardUncertainty = value.times(doubt);
      const { lower, upper } = recoveryOf(
        objectsFound(decimal(found), background === 0 ? null : decimal(before)),
        { value, standardUncertainty, portion: ONE },
      );
      if (lower.lessThanOrEqualTo(mean) && upper.greaterThanOrEqualTo(mean)) held += 1;
    }
    expect(held / trials).toBeGreaterThan(0.94);
  });

  it("are those of nothing found, and never below nothing", () => {
    const none = recoveryOf(objectsFound(ZERO, null), {
      value: decimal(10),
      standardUncertainty: ZERO,
      portion: ONE,
    });
    expect(none.percent.isZero() && none.lower.isZero()).toBe(true);
    expect(none.upper.toNumber()).toBeCloseTo(36.9, 1);
    expect(relativeDifference(ZERO, ZERO)).toBeNull();
  });
});
