import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { morisitaIndex, negativeBinomialK } from "#core/counting/densities/aggregation.ts";
import { betweenFieldInterval } from "#core/counting/intervals/between-field-interval.ts";
import { dispersionTest } from "#core/counting/intervals/dispersion-test.ts";
import { exactDispersionTails } from "#core/counting/intervals/exact-dispersion.ts";
import { fieldScatter } from "#core/counting/intervals/field-scatter.ts";

const fieldCounts = fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 2, maxLength: 60 });

describe("the dispersion test", () => {
  it("does not depend on the order of the fields", () => {
    fc.assert(
      fc.property(fieldCounts, (fields) => {
        expect(dispersionTest([...fields].reverse())).toEqual(dispersionTest(fields));
      }),
    );
  });

  it("gives one verdict, and the verdict its p asks for", () => {
    fc.assert(
      fc.property(fieldCounts, (fields) => {
        const { verdict, upperP, lowerP, total } = dispersionTest(fields);
        if (total === 0) expect(verdict).toBe("undecided");
        else if ((upperP ?? 1) < 0.025) expect(verdict).toBe("clustered");
        else if ((lowerP ?? 1) < 0.025) expect(verdict).toBe("regular");
        else expect(verdict).toBe("random");
      }),
    );
  });

  it("calls equal fields regular and explains what that may mean", () => {
    const result = dispersionTest(Array<number>(20).fill(12));
    expect(result).toMatchObject({ verdict: "regular", index: 0, lowerP: 0 });
    expect(result.meaning).toContain("counting is not independent");
  });

  it("says nothing when nothing was counted", () => {
    expect(dispersionTest([0, 0, 0])).toMatchObject({ verdict: "undecided", index: null, twoSidedP: null });
  });

  it("takes half fibres", () => {
    expect(dispersionTest([1.5, 2, 0.5, 3]).mean).toBe(1.75);
  });

  it.each([
    [[5], "fields: needs at least 2 fields, got 1"],
    [[5, -1], "fields.1: must be a count"],
    [[5, 1.2345], "fields.1: must be a count"],
  ])("refuses %j at its field", (fields, message) => {
    expect(() => dispersionTest(fields)).toThrow(message);
  });
});

describe("few objects in few fields", () => {
  /** Every way to throw the objects, one by one. */
  function bruteTails(fields: readonly number[]): { upperP: number; lowerP: number } {
    const total = fields.reduce((sum, count) => sum + count, 0);
    const throws = fields.length ** total;
    const observed = fields.reduce((sum, count) => sum + count * count, 0);
    let upper = 0;
    let lower = 0;
    for (let code = 0; code < throws; code += 1) {
      const counts = Array<number>(fields.length).fill(0);
      for (let rest = code, object = 0; object < total; object += 1) {
        const field = rest % fields.length;
        counts[field] = (counts[field] ?? 0) + 1;
        rest = Math.floor(rest / fields.length);
      }
      const squares = counts.reduce((sum, count) => sum + count * count, 0);
      if (squares >= observed) upper += 1;
      if (squares <= observed) lower += 1;
    }
    return { upperP: upper / throws, lowerP: lower / throws };
  }

  it.each([
    [[0, 3, 0, 0, 1]],
    [[1, 1, 1, 0]],
    [[4, 0, 0, 0, 0, 0]],
    [[3, 1]],
    [[5, 0, 1]],
    [[0, 2, 0, 2, 0, 0, 1]],
  ])("%j: exact tails are those of every throw", (fields) => {
    const exact = exactDispersionTails(fields);
    const brute = bruteTails(fields);
    expect(exact.upperP).toBeCloseTo(brute.upperP, 12);
    expect(exact.lowerP).toBeCloseTo(brute.lowerP, 12);
  });

  it("are judged exactly, not by χ²", () => {
    expect(dispersionTest([0, 3, 0, 0, 1]).by).toBe("exact");
    expect(dispersionTest([5, 0, 0, 0, 0, 0, 0, 0, 0])).toMatchObject({ by: "exact", verdict: "clustered" });
    expect(dispersionTest([3, 0, 0, 1]).by).toBe("chi-squared");
    expect(dispersionTest([5, 3, 6, 2, 7]).by).toBe("chi-squared");
    expect(dispersionTest([0.5, 0, 0, 1]).by).toBe("chi-squared");
  });
});

describe("aggregation", () => {
  it("by Morisita is what pairs of objects in one field are to pairs thrown at random", () => {
    expect(morisitaIndex([2, 2])).toBeCloseTo(2 / 3, 14);
    expect(morisitaIndex([4, 0])).toBe(2);
    expect(morisitaIndex([1, 0, 0])).toBeNull();
  });

  it("has no k when the variance does not exceed the mean", () => {
    expect(negativeBinomialK([7, 5, 9, 6, 8, 4, 7, 10, 6, 8])).toBeNull();
    fc.assert(
      fc.property(fieldCounts, (fields) => {
        const k = negativeBinomialK(fields);
        const { mean, variance } = fieldScatter(fields);
        if (k === null) expect(variance ?? 0).toBeLessThanOrEqual(mean);
        else expect(k.k).toBeLessThanOrEqual(k.simple);
      }),
    );
  });
});

describe("the interval from the scatter between fields", () => {
  it("contains the mean, is never below zero and widens with the level", () => {
    fc.assert(
      fc.property(fieldCounts, (fields) => {
        const narrow = betweenFieldInterval(fields, 0.8);
        const wide = betweenFieldInterval(fields, 0.99);
        expect(narrow.lower).toBeGreaterThanOrEqual(0);
        expect(wide.lower).toBeLessThanOrEqual(narrow.lower);
        expect(wide.upper).toBeGreaterThanOrEqual(narrow.upper);
        expect(narrow.lower).toBeLessThanOrEqual(narrow.mean);
      }),
    );
  });

  it("has no relative width when nothing was counted", () => {
    expect(betweenFieldInterval([0, 0])).toMatchObject({ mean: 0, relativeHalfWidth: null });
  });

  it("needs two fields", () => {
    expect(() => betweenFieldInterval([5])).toThrow("fields: needs at least 2 fields");
    expect(() => fieldScatter([])).toThrow("fields: must not be empty: count at least one field");
  });
});
