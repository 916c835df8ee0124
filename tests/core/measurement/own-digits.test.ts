import { describe, expect, it } from "vitest";
import { digitVerdict, type EstimatedEdge, ownDigits, plainDigits } from "#core/measurement/own-digits.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { normalFrom } from "../../support/seeded-normal.ts";

/** How a reader writes a position on the scale down, div. */
type Habit = (position: number) => string;

const toTenths: Habit = (position) => position.toFixed(1);
/** Positions within 0.15 div of a line or of the middle between two are drawn to it. */
const favoursLinesAndMiddles: Habit = (position) => {
  const half = Math.round(position * 2) / 2;
  return (Math.abs(position - half) < 0.15 ? half : position).toFixed(1);
};

/** Objects of one kind, left edges laid on a line, right edges read with a scatter of 0.1 div: nothing wrong with it. */
function objects(seed: number, n: number, spread: number, habit: Habit): EstimatedEdge[] {
  const normal = normalFrom(seed);
  return Array.from({ length: n }, () => {
    const size = 30 + spread * normal() + 0.1 * normal();
    const left = 5 + Math.round(3 * normal());
    const typed = habit(left + size);
    return { typed, divisions: decimal(typed).minus(left) };
  });
}

function share(trials: number, of: (seed: number) => boolean): number {
  return Array.from({ length: trials }, (_, at) => of(at + 1)).filter(Boolean).length / trials;
}

const told = (n: number, spread: number, habit: Habit) => (seed: number) =>
  digitVerdict(ownDigits([objects(seed, n, spread, habit)]).counts)?.uneven ?? false;

describe("a reader without preference", () => {
  it.each([
    [20, 2],
    [50, 1.5],
    [51, 3],
    [200, 2],
    [1000, 5],
  ])("is told of one no more often than the risk says: %i readings, spread %f div", (n, spread) => {
    // The risk is 1 in 100: of 1,000 readers more than 20, of 100 more than 4 are told with a chance below 0.5 %.
    const trials = n > 500 ? 100 : 1000;
    expect(share(trials, told(n, spread, toTenths))).toBeLessThanOrEqual(n > 500 ? 0.04 : 0.02);
  });

  it("is not judged by objects that are alike, whose digits agree by themselves", () => {
    expect(share(200, told(100, 0, toTenths))).toBe(0);
    const { counts, leftOut } = ownDigits([objects(1, 100, 0, toTenths)]);
    expect(counts.every((count) => count === 0)).toBe(true);
    expect(leftOut).toEqual({ alike: 100, whole: 0, finer: 0 });
    // Without that rule nearly everybody would be told of a preference.
    const unguarded = (seed: number) =>
      digitVerdict(plainDigits(objects(seed, 100, 0, toTenths).map(({ typed }) => typed)))?.uneven ?? false;
    expect(share(200, unguarded)).toBeGreaterThan(0.9);
  });

  it("may leave out the point of whole divisions", () => {
    const plain: Habit = (position) => String(Number(position.toFixed(1)));
    expect(share(300, told(100, 2, plain))).toBeLessThanOrEqual(0.03);
  });

  it("is not judged by readings to whole divisions or finer than tenths, nor by a handful", () => {
    expect(ownDigits([objects(1, 60, 3, (at) => at.toFixed(0))]).leftOut.whole).toBe(60);
    expect(ownDigits([objects(1, 60, 3, (at) => at.toFixed(2))]).leftOut.finer).toBe(60);
    expect(ownDigits([objects(1, 4, 3, toTenths)]).leftOut.alike).toBe(4);
    expect(digitVerdict([2, 2, 2, 2, 2, 2, 2, 2, 2, 1])).toBeNull();
  });
});

describe("a reader who favours lines and middles", () => {
  it("is found by some dozens of readings, and the digits are named", () => {
    expect(share(200, told(60, 2, favoursLinesAndMiddles))).toBeGreaterThan(0.9);
    const found = digitVerdict(ownDigits([objects(3, 200, 2, favoursLinesAndMiddles)]).counts);
    expect(found).toMatchObject({ n: 200, uneven: true });
    expect([...(found?.preferred ?? [])].sort()).toEqual([0, 5]);
  });

  it("is told χ² and its p as W. J. Conover: Practical Nonparametric Statistics (1999), 4.5, has the test (from memory)", () => {
    // 100 invented readings, 19 of 0 and of 5; χ² worked by hand.
    const found = digitVerdict([19, 8, 8, 8, 7, 19, 8, 8, 8, 7]);
    // (2·9² + 6·2² + 2·3²)/10 = 20.4 with 9 degrees of freedom: p = 0.015598, the density integrated outside the program.
    expect(found?.p).toBeCloseTo(0.015598, 5);
    expect(found).toMatchObject({ uneven: false, preferred: [] });
  });
});
