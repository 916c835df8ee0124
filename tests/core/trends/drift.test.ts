import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import { drift } from "#core/trends/drift.ts";
import { mannKendall } from "#core/trends/mann-kendall.ts";
import { bandDays, guardedLimit, reachingDay } from "#core/trends/reaching-date.ts";
import { nearly, readings } from "../../support/sample-arbitraries.ts";

const history = (values: string, step = 90) =>
  decimals(values).map((value, at) => ({ day: decimal(1000 + at * step), value }));
const interval = decimal(90);
const rising = "10.00 10.02 10.03 10.05 10.06 10.08";

describe("drift", () => {
  it("is called so from five points over three intervals with a significant slope", () => {
    expect(drift({ points: history(rising), interval }).caveats).toEqual([]);
    expect(drift({ points: history("10.00 10.02 10.03 10.05"), interval }).caveats).toEqual([
      "too-few-points",
    ]);
    expect(drift({ points: history(rising, 10), interval }).caveats).toEqual(["too-short-a-span"]);
    expect(drift({ points: history("10 10.1 9.9 10.1 9.9 10"), interval }).caveats).toEqual([
      "not-significant",
    ]);
  });

  it("counts days from its first point", () => {
    const found = drift({ points: history(rising), interval });
    expect([found.firstDay.toString(), found.span.toString()]).toEqual(["1000", "450"]);
    expect(found.line.intercept.toNumber()).toBeCloseTo(10.002, 2);
  });

  it("weighs occasions only when they differ by more than twice", () => {
    const points = history(rising);
    const with_ = (text: string) => drift({ points, interval, occasionUncertainties: decimals(text) });
    expect(with_("1 1 1 2 1 1").weighted).toBe(false);
    expect(with_("1 1 1 2.1 1 1").weighted).toBe(true);
    expect(with_("1 1 1 2 1 1").line.slope.equals(drift({ points, interval }).line.slope)).toBe(true);
  });

  it("names what it cannot use", () => {
    expect(() => drift({ points: history("1 2"), interval })).toThrow("points: needs at least 3");
    expect(() => drift({ points: history("1 2 3", 0), interval })).toThrow(
      "points: must not all have the same x",
    );
    expect(() => drift({ points: history("1 2 3"), interval: decimal(0) })).toThrow("interval:");
    expect(() =>
      drift({ points: history("1 2 3"), interval, occasionUncertainties: decimals("1 0 1") }),
    ).toThrow("occasionUncertainties.1:");
    expect(() =>
      drift({ points: history("1 2 3"), interval, occasionUncertainties: decimals("1 5") }),
    ).toThrow("weights: needs one weight per point, 3");
  });
});

describe("the day a limit is reached", () => {
  const found = drift({ points: history(rising), interval });
  const reach = (limit: string) => reachingDay(found, decimal(limit), "upper");

  it("is given within twice the span, with the earliest credible day before it", () => {
    const answer = reach("10.12");
    expect(answer.kind).toBe("day");
    if (answer.kind !== "day") return;
    expect(answer.earliest.lessThan(answer.day) && answer.day.lessThan(answer.latest)).toBe(true);
    expect(nearly(answer.day, decimal("10.12").minus(found.line.intercept).div(found.line.slope))).toBe(true);
  });

  it("is only a “not before” beyond that", () => {
    expect(reach("10.50")).toEqual({ kind: "not-before", day: decimal(900) });
  });

  it("is said to be past when the line is there already", () => {
    expect(reach("10.05").kind).toBe("reached");
    expect(reach("9.9").kind).toBe("reached");
  });

  it("never comes on the side the line moves away from", () => {
    expect(reachingDay(found, decimal("9.9"), "lower").kind).toBe("away");
    const flat = drift({ points: history("10 10 10 10 10"), interval });
    expect(reachingDay(flat, decimal(11), "upper").kind).toBe("away");
  });

  it("mirrors for a falling factor", () => {
    const falling = drift({ points: history("10.08 10.06 10.05 10.03 10.02 10.00"), interval });
    const down = reachingDay(falling, decimal("9.96"), "lower");
    expect(down.kind).toBe("day");
    expect(reachingDay(falling, decimal("10.2"), "upper").kind).toBe("away");
    expect(guardedLimit(decimal(10), decimal("0.005"), decimal("0.01"), "lower").toString()).toBe("9.96");
    expect(guardedLimit(decimal(10), decimal("0.005"), decimal("0.01"), "upper").toString()).toBe("10.04");
  });

  it("is not given when the slope is too uncertain to bound it", () => {
    const noisy = drift({ points: history("10 10.3 9.8 10.2 9.9 10.1"), interval });
    expect(bandDays(noisy.line, decimal(12), 0.95, "line")).toBeNull();
    const kinds = [
      reachingDay(noisy, decimal(12), "upper").kind,
      reachingDay(noisy, decimal(8), "lower").kind,
    ];
    expect(kinds.sort()).toEqual(["away", "uncertain"]);
  });
});

/** Two-sided p of S by writing down every order of n values: slow, and not the recursion under test. */
function pByEnumeration(values: readonly number[]): number {
  const score = (order: readonly number[]) =>
    order.reduce(
      (sum, later, j) => order.slice(0, j).reduce((part, earlier) => part + Math.sign(later - earlier), sum),
      0,
    );
  const permutations = (left: readonly number[]): number[][] =>
    left.length === 0
      ? [[]]
      : left.flatMap((value) =>
          permutations(left.filter((other) => other !== value)).map((rest) => [value, ...rest]),
        );
  const all = permutations(values);
  const observed = Math.abs(score(values));
  return all.filter((order) => Math.abs(score(order)) >= observed).length / all.length;
}

describe("the Mann–Kendall test", () => {
  it("has the exact p that writing down every order gives", () => {
    for (const values of [
      [1, 2, 3],
      [1, 3, 2, 4],
      [2, 1, 3, 5, 4],
      [1, 2, 4, 3, 5, 6, 7],
    ]) {
      const found = mannKendall(history(values.join(" ")));
      expect(found.exact).toBe(true);
      expect(found.p).toBeCloseTo(pByEnumeration(values), 12);
    }
  });

  it("turns its sign with the values and keeps p", () => {
    fc.assert(
      fc.property(readings(3, 25), (values) => {
        const points = values.map((value, at) => ({ day: decimal(at), value }));
        const up = mannKendall(points);
        const down = mannKendall(points.map(({ day, value }) => ({ day, value: value.negated() })));
        expect(down.score).toBe(up.score === 0 ? 0 : -up.score);
        expect(down.p).toBeCloseTo(up.p, 12);
        expect(nearly(down.slope, up.slope.negated())).toBe(true);
        expect(up.p).toBeGreaterThan(0);
        expect(up.p).toBeLessThanOrEqual(1);
      }),
    );
  });

  it("corrects the variance for ties (1 1 2 3: S 5, variance (156 − 18)/18) and then approximates p", () => {
    const found = mannKendall(history("1 1 2 3"));
    expect(found).toMatchObject({ score: 5, exact: false });
    expect(nearly(found.variance, decimal(138).div(18))).toBe(true);
  });

  it("of equal values shows no trend", () => {
    expect(mannKendall(history("4 4 4 4"))).toMatchObject({ score: 0, z: null, p: 1 });
  });

  it("puts the slope inside its interval where there are enough points", () => {
    const found = mannKendall(history("10.0 10.2 10.1 10.3 10.4 10.2 10.5 10.6 10.4 10.7"));
    expect(found.slopeInterval?.lower.lessThan(found.slope)).toBe(true);
    expect(found.slopeInterval?.upper.greaterThan(found.slope)).toBe(true);
    expect(mannKendall(history("1 2 3")).slopeInterval).toBeNull();
  });

  it("names what it cannot use", () => {
    expect(() => mannKendall(history("1 2"))).toThrow("points: needs at least 3");
    expect(() => mannKendall(history("1 2 3", 0))).toThrow("points: must not all lie on one day");
    expect(() => mannKendall(history("1 2 3").reverse())).toThrow("points.1.day:");
  });
});
