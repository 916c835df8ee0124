import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import { c4 } from "#core/trends/chart-constants.ts";
import { countChart } from "#core/trends/count-chart.ts";
import { individualsChart, movingRanges } from "#core/trends/individuals-chart.ts";
import { RULE_ROLES, runSignals } from "#core/trends/run-rules.ts";
import { RUN_RULES, type RunRule } from "#core/vocabulary/trends.ts";
import { nearly, reading, readings } from "../../support/sample-arbitraries.ts";
import { drawnFields, uniformFrom } from "../../support/simulated-fields.ts";

function found(rules: readonly RunRule[], text: string, sideRun?: number) {
  const input = { values: decimals(text), centre: decimal(0), sigma: decimal(1), rules };
  return runSignals(sideRun === undefined ? input : { ...input, sideRun });
}

describe("run rules", () => {
  it("see the same in values that are shifted, scaled or mirrored", () => {
    fc.assert(
      fc.property(readings(0, 30), reading, (values, shift) => {
        const input = { values, centre: decimal(0), sigma: decimal(200), rules: RUN_RULES };
        const plain = runSignals(input);
        const moved = runSignals({
          ...input,
          values: values.map((value) => value.times(-3).plus(shift)),
          centre: shift,
          sigma: decimal(600),
        });
        expect(moved).toEqual(plain);
      }),
    );
  });

  it("name the points of the pattern, not only the one that completes it", () => {
    expect(found(["T5"], "0.1 2.3 0.4 2.1")).toEqual([{ rule: "T5", index: 3, points: [1, 3] }]);
    expect(found(["T6"], "1.2 1.5 0.3 1.1 1.4")).toEqual([{ rule: "T6", index: 4, points: [0, 1, 3, 4] }]);
    expect(found(["T3"], "1 2 3 4 5 6")).toEqual([{ rule: "T3", index: 5, points: [0, 1, 2, 3, 4, 5] }]);
  });

  it("are strict: equal neighbours do not rise, a point on the centre line ends a run, 1σ is neither in nor out", () => {
    expect(found(["T3"], "1 2 3 3 4 5 6")).toEqual([]);
    expect(found(["T2"], "1 1 1 1 0 1 1 1 1 1")).toEqual([]);
    expect(found(["T8"], "1 1.1 1.1 1.1 1.1 1.1 1.1 1.1")).toEqual([]);
    expect(found(["T7"], "1 0 0 0 0 0 0 0 0 0 0 0 0 0 0")).toEqual([]);
    expect(found(["T1"], "3 -3 3.0000001")).toEqual([{ rule: "T1", index: 2, points: [2] }]);
  });

  it("take eight in a row on one side where the Western Electric rules are wanted", () => {
    const eight = "1 1 1 1 1 1 1 1";
    expect(found(["T2"], eight)).toEqual([]);
    expect(found(["T2"], eight, 8)).toHaveLength(1);
  });

  it("look only for the rules asked for; T1 to T3 are signals", () => {
    expect(found([], "9 9 9")).toEqual([]);
    expect(RUN_RULES.filter((rule) => RULE_ROLES[rule] === "signal")).toEqual(["T1", "T2", "T3"]);
  });

  it("name what they cannot use", () => {
    const input = { values: decimals("1"), centre: decimal(0), rules: RUN_RULES };
    expect(() => runSignals({ ...input, sigma: decimal(0) })).toThrow("sigma: must be greater than zero");
    expect(() => runSignals({ ...input, sigma: decimal(1), sideRun: 1 })).toThrow("sideRun:");
  });
});

describe("charts of single values", () => {
  it("shift and scale with the values", () => {
    fc.assert(
      fc.property(readings(2), reading, (values, shift) => {
        const plain = individualsChart(values);
        const moved = individualsChart(values.map((value) => value.times(2).plus(shift)));
        expect(nearly(moved.centre, plain.centre.times(2).plus(shift))).toBe(true);
        expect(nearly(moved.sigma, plain.sigma.times(2))).toBe(true);
        expect(nearly(moved.rangeLimit, plain.rangeLimit.times(2))).toBe(true);
      }),
    );
  });

  it("name what they cannot use", () => {
    expect(() => movingRanges(decimals("1"))).toThrow("values: needs at least 2");
    expect(() => c4(1)).toThrow("n: must be a whole number from 2");
    expect(() => countChart([])).toThrow("counts: must not be empty");
    expect(() => countChart([{ objects: decimal(-1), areas: 1 }])).toThrow("counts.0: must not be");
    expect(() => countChart([{ objects: decimal(1), areas: 0.5 }])).toThrow("counts.0: must have a whole");
  });

  it("never put the lower limit of counts below zero", () => {
    const counts = decimals("1 2 3 2").map((objects) => ({ objects, areas: 1 }));
    expect(countChart(counts).points[0]?.limits.lower.isZero()).toBe(true);
  });

  it("widen the limits of a count over fewer areas, and compare rates", () => {
    const chart = countChart([
      { objects: decimal(40), areas: 10 },
      { objects: decimal(16), areas: 4 },
    ]);
    expect(chart.centre.toString()).toBe("4");
    expect(chart.points.map(({ limits }) => limits.upper.toDecimalPlaces(4).toString())).toEqual([
      "5.8974",
      "7",
    ]);
    expect(chart.points.some(({ isOutside }) => isOutside)).toBe(false);
  });

  // Nothing wrong, 20 counts of a control sample: how often any of them is called outside. At most 6 of 100
  // series; a count four times too high is found nearly always from a mean of 5 on.
  it("call few series of counts wrong that are not, and find a count that is", () => {
    const uniform = uniformFrom(3);
    for (const mean of [1, 5, 20, 100]) {
      let called = 0;
      let found = 0;
      for (let i = 0; i < 500; i += 1) {
        const counts = drawnFields({ mean, exponent: null }, 20, uniform);
        const chartOf = (list: readonly number[]) =>
          countChart(list.map((objects) => ({ objects: decimal(objects), areas: 1 }))).points;
        if (chartOf(counts).some(({ isOutside }) => isOutside)) called += 1;
        const [wrong] = drawnFields({ mean: 4 * mean, exponent: null }, 1, uniform);
        if (chartOf([...counts, wrong ?? 0]).at(-1)?.isOutside) found += 1;
      }
      expect(called / 500).toBeLessThan(0.06);
      if (mean >= 5) expect(found / 500).toBeGreaterThan(0.85);
    }
  });
});
