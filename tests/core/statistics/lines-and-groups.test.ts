import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { AIAG } from "#core/selftest/data/aiag.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import { gaugeStudy } from "#core/statistics/gauge-study.ts";
import { groupOf, oneWayAnova } from "#core/statistics/one-way-anova.ts";
import { pointsOf, predict, straightLine, testAgainstZero } from "#core/statistics/straight-line.ts";
import { pairedTest } from "#core/statistics/two-sample-tests.ts";
import { nearly, reading, readings } from "../../support/sample-arbitraries.ts";

const points = fc
  .array(fc.record({ x: fc.integer({ min: -500, max: 500 }), y: fc.integer({ min: -500, max: 500 }) }), {
    minLength: 3,
    maxLength: 20,
  })
  .filter((list) => new Set(list.map(({ x }) => x)).size > 1)
  .map((list) => list.map(({ x, y }) => ({ x: decimal(x), y: decimal(y).div(10) })));

describe("straight lines", () => {
  it("leave residuals that sum to zero and split the sum of squares", () => {
    fc.assert(
      fc.property(points, (list) => {
        const line = straightLine(list);
        const sum = line.residuals.reduce((total, residual) => total.plus(residual));
        expect(nearly(sum, decimal(0))).toBe(true);
        const meanY = line.meanY;
        const all = list.reduce((total, { y }) => total.plus(y.minus(meanY).pow(2)), decimal(0));
        expect(nearly(line.regressionSquares.plus(line.residualSquares), all)).toBe(true);
      }),
    );
  });

  it("follow a shift and a scale of y", () => {
    fc.assert(
      fc.property(points, reading, (list, shift) => {
        const line = straightLine(list);
        const moved = straightLine(list.map(({ x, y }) => ({ x, y: y.times(4).plus(shift) })));
        expect(nearly(moved.slope, line.slope.times(4))).toBe(true);
        expect(nearly(moved.intercept, line.intercept.times(4).plus(shift), "1e-15")).toBe(true);
        expect(nearly(moved.slopeError, line.slopeError.times(4), "1e-12")).toBe(true);
      }),
    );
  });

  it("do not change with equal weights, and pass nearer to a heavy point", () => {
    const list = pointsOf(decimals("0 1 2 3"), decimals("0 1 2 9"));
    const plain = straightLine(list);
    const equal = straightLine(list, decimals("7 7 7 7"));
    expect(equal.slope.equals(plain.slope)).toBe(true);
    const heavy = straightLine(list, decimals("1 1 1 1000"));
    const miss = (line: typeof plain) => line.residuals[3]?.abs() ?? decimal(0);
    expect(miss(heavy).lessThan(miss(plain))).toBe(true);
  });

  it("are least uncertain at their middle", () => {
    const line = straightLine(pointsOf(decimals("0 1 2 3"), decimals("0 1.1 1.9 3")));
    const at = (x: string) => predict(line, decimal(x)).standardError;
    expect(at("1.5").lessThan(at("0"))).toBe(true);
    expect(nearly(at("0"), line.interceptError)).toBe(true);
    expect(predict(line, decimal(9)).observationError.greaterThan(at("9"))).toBe(true);
  });

  it("with an exact fit have no F and no t, and a slope beyond doubt", () => {
    const line = straightLine(pointsOf(decimals("0 1 2"), decimals("1 3 5")));
    expect(line).toMatchObject({ f: null, p: null });
    expect(testAgainstZero(line.slope, line.slopeError, line.degrees)).toEqual({ t: null, p: 0 });
    expect(testAgainstZero(decimal(0), decimal(0), 1)).toEqual({ t: null, p: 1 });
  });

  it("name what they cannot use", () => {
    expect(() => straightLine(pointsOf(decimals("1 1 1"), decimals("1 2 3")))).toThrow(
      "points: must not all have",
    );
    expect(() => straightLine(pointsOf(decimals("1 2"), decimals("1 2")))).toThrow(
      "points: needs at least 3",
    );
    expect(() => pointsOf(decimals("1 2"), decimals("1"))).toThrow("y: needs as many values as x, 2");
    expect(() =>
      straightLine([
        { x: decimal(1), y: decimal(Number.NaN) },
        ...pointsOf(decimals("1 2"), decimals("1 2")),
      ]),
    ).toThrow("points.0.y: is not a finite number");
    expect(() => straightLine(pointsOf(decimals("1 2 3"), decimals("1 2 3")), decimals("1 0 1"))).toThrow(
      "weights.1:",
    );
  });
});

describe("paired differences", () => {
  it("change sign with the order of the samples and not with the order of rows", () => {
    const pairs = fc.array(fc.tuple(reading, reading), { minLength: 2, maxLength: 20 });
    fc.assert(
      fc.property(pairs, (list) => {
        const [first, second] = [list.map(([a]) => a), list.map(([, b]) => b)];
        const there = pairedTest(first, second);
        const back = pairedTest([...second].reverse(), [...first].reverse());
        expect(nearly(there.difference, back.difference.negated())).toBe(true);
        expect(there.p).toBeCloseTo(back.p, 9);
      }),
    );
  });

  it("without any spread say so rather than divide by it", () => {
    expect(pairedTest(decimals("1 2"), decimals("2 3"))).toMatchObject({ t: null, p: 0 });
    expect(pairedTest(decimals("1 2"), decimals("1 2"))).toMatchObject({ t: null, p: 1 });
  });

  it("name what they cannot use", () => {
    expect(() => pairedTest(decimals("1 2 3"), decimals("1 2"))).toThrow("second: needs one value for each");
    expect(() => pairedTest(decimals("1"), decimals("1 2"))).toThrow("first: needs at least 2");
  });
});

describe("analysis of variance", () => {
  it("splits the sum of squares of all readings, also for groups of unequal size", () => {
    fc.assert(
      fc.property(fc.array(readings(1, 6), { minLength: 2, maxLength: 6 }), (groups) => {
        fc.pre(groups.some((group) => group.length > 1));
        const { between, within } = oneWayAnova(groups);
        const all = groupOf(groups.flat());
        expect(nearly(between.squares.plus(within.squares), all.squares)).toBe(true);
        expect(between.degrees + within.degrees).toBe(all.n - 1);
      }),
    );
  });

  it("takes the equivalent size of unequal groups (2, 3 and 4 readings: 52/18)", () => {
    const anova = oneWayAnova([decimals("1 2"), decimals("2 3 4"), decimals("5 6 7 8")]);
    // (9 − (4 + 9 + 16)/9)/2
    expect(nearly(anova.effectiveSize, decimal(52).div(18))).toBe(true);
  });

  it("names what it cannot use", () => {
    expect(() => oneWayAnova([decimals("1 2")])).toThrow("groups: needs at least 2");
    expect(() => oneWayAnova([decimals("1"), decimals("2")])).toThrow(
      "groups: need at least one group with two",
    );
    expect(() => oneWayAnova([decimals("1 2"), []])).toThrow("groups.1: must not be empty");
  });
});

describe("crossed studies of readers", () => {
  it("split the sum of squares of all readings", () => {
    const study = gaugeStudy(AIAG);
    const parts = [study.specimen, study.reader, study.interaction, study.error];
    const sum = parts.reduce((total, { squares }) => total.plus(squares), decimal(0));
    expect(nearly(sum, groupOf(AIAG.flat(2)).squares)).toBe(true);
    expect(parts.reduce((total, { degrees }) => total + degrees, 0)).toBe(89);
  });

  it("find an interaction that is there, and keep it apart", () => {
    // The second reader reads large specimens too large.
    const study = gaugeStudy([
      [decimals("1.0 1.1"), decimals("5.0 5.1"), decimals("9.0 9.1")],
      [decimals("1.0 1.1"), decimals("5.5 5.6"), decimals("10.0 10.1")],
    ]);
    expect(study.pooled).toBe(false);
    // MS of interaction 0.25, of error 0.005, two repeats: √((0.25 − 0.005)/2).
    expect(nearly(study.components.interaction, decimal("0.1225").sqrt())).toBe(true);
  });

  it("name the reader or cell that breaks the crossing", () => {
    const cell = decimals("1 2");
    expect(() => gaugeStudy([[cell, cell]])).toThrow("readers: needs at least 2");
    expect(() => gaugeStudy([[cell, cell], [cell]])).toThrow("readers.1: must hold 2 specimens");
    expect(() =>
      gaugeStudy([
        [cell, cell],
        [cell, decimals("1 2 3")],
      ]),
    ).toThrow("readers.1.1: must hold 2 repeats");
    expect(() =>
      gaugeStudy([
        [decimals("1"), decimals("1")],
        [decimals("1"), decimals("1")],
      ]),
    ).toThrow("readers.0.0: needs at least 2 repeats");
    const still = decimals("1 1");
    expect(() =>
      gaugeStudy([
        [still, still],
        [still, still],
      ]),
    ).toThrow("readers: show no scatter");
  });
});
