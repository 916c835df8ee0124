import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import { baselines } from "#core/trends/baseline.ts";
import { factorLimits, judgeAgainst, limitKind } from "#core/trends/factor-limits.ts";

const limitsOf = (text: string, occasion = "0.01") =>
  factorLimits({ values: decimals(text), occasionUncertainty: decimal(occasion) });
const many = (n: number) => Array.from({ length: n }, (_, i) => (10 + (i % 3) * 0.01).toFixed(2)).join(" ");

describe("limits of a factor's history", () => {
  it("are those its number of points can bear", () => {
    expect([1, 2, 3, 7, 8, 19, 20, 50].map(limitKind)).toEqual([
      "tolerance",
      "pair",
      "prediction",
      "prediction",
      "preliminary",
      "preliminary",
      "frozen",
      "frozen",
    ]);
  });

  it("from one point rest on its budget: three occasion uncertainties", () => {
    const limits = limitsOf("10.1", "0.02");
    expect(limits).toMatchObject({ kind: "tolerance", warning: null, action: null });
    expect([limits.aPriori.lower.toString(), limits.aPriori.upper.toString()]).toEqual(["10.04", "10.16"]);
    expect(judgeAgainst(limits, decimal("10.17"))).toMatchObject({ level: "action", outsideAPriori: true });
    expect(judgeAgainst(limits, decimal("10.16")).level).toBe("within");
  });

  it("warn between the 95 % and the 99 % prediction limits", () => {
    const limits = limitsOf("10.10 10.11 10.09 10.10 10.12", "1");
    const between = limits.warning?.upper.plus(limits.action?.upper ?? decimal(0)).div(2) ?? decimal(0);
    expect(judgeAgainst(limits, between)).toEqual({
      level: "warning",
      outsideAPriori: false,
      outsideAction: false,
    });
    expect(judgeAgainst(limits, limits.action?.upper.plus("0.001") ?? decimal(0)).level).toBe("action");
  });

  it("without any scatter fall back on the budget rather than call every change a signal", () => {
    const limits = limitsOf("10.1 10.1 10.1", "0.02");
    expect(limits).toMatchObject({ kind: "prediction", warning: null, action: null });
    expect(judgeAgainst(limits, decimal("10.12")).level).toBe("within");
    expect(limitsOf("5 5 5 5 5 5 5 5").sigma).toBeNull();
  });

  it("freeze at twenty points: later values do not move them, a recorded decision does", () => {
    const twenty = limitsOf(many(20));
    const later = limitsOf(`${many(20)} 10.9 10.9`);
    expect(later.n).toBe(20);
    expect(later.action).toEqual(twenty.action);
    const values = decimals(many(24));
    const refrozen = factorLimits({ values, occasionUncertainty: decimal("0.01"), frozenAt: 24 });
    expect(refrozen.n).toBe(24);
    expect(limitsOf(many(9)).n).toBe(9);
  });

  it("name what they cannot use", () => {
    expect(() => limitsOf("10 11", "-1")).toThrow("occasionUncertainty: must not be negative");
    expect(() => factorLimits({ values: [], occasionUncertainty: decimal(1) })).toThrow(
      "values: must not be empty",
    );
    const values = decimals(many(20));
    expect(() => factorLimits({ values, occasionUncertainty: decimal(1), frozenAt: 25 })).toThrow(
      "frozenAt: must be at most the number of values, 20",
    );
    expect(() => factorLimits({ values, occasionUncertainty: decimal(1), frozenAt: 5 })).toThrow("frozenAt:");
  });
});

describe("baselines", () => {
  const history = [0, 10, 20, 30].map((day) => ({ day: decimal(day), value: decimal(day) }));
  const event = (day: number, breaks = true) => ({ day: decimal(day), breaks });
  const days = (events: ReturnType<typeof event>[]) =>
    baselines(history, events).map(({ points }) => points.map((point) => point.day.toNumber()));

  it("begin anew at an event that breaks, with the value of the same day after it", () => {
    expect(days([])).toEqual([[0, 10, 20, 30]]);
    expect(days([event(20)])).toEqual([
      [0, 10],
      [20, 30],
    ]);
    expect(days([event(5, false)])).toEqual([[0, 10, 20, 30]]);
  });

  it("are not made of nothing, except the one that is still to come", () => {
    expect(days([event(12), event(15)])).toEqual([
      [0, 10],
      [20, 30],
    ]);
    expect(baselines(history, [event(12), event(15)])[1]?.begunBy?.day.toNumber()).toBe(15);
    expect(days([event(0)])).toEqual([[0, 10, 20, 30]]);
    expect(days([event(40)])).toEqual([[0, 10, 20, 30], []]);
  });

  it("need the points in order of time", () => {
    expect(() => baselines([...history].reverse(), [])).toThrow("points.1.day: must not lie before");
  });
});
