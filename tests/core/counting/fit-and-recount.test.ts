import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { poissonFit } from "#core/counting/intervals/poisson-fit.ts";
import { chooseForRecount, RECOUNT_SHARE } from "#core/counting/recounts/recount-choice.ts";

describe("the fit of a Poisson distribution", () => {
  it("finds counts that are far from one", () => {
    const fit = poissonFit([60, 0, 0, 0, 0, 0, 0, 0, 40]);
    expect(fit?.p).toBeLessThan(1e-10);
  });

  it("expects as many fields as were counted, however the classes are joined", () => {
    // Frequencies that are themselves Poisson give a statistic near zero.
    const expected = [135, 271, 271, 180, 90, 36, 12, 5];
    const fit = poissonFit(expected);
    expect(fit?.statistic).toBeLessThan(0.3);
    expect(fit?.classes).toBeGreaterThan(5);
  });

  it("says nothing when too few classes remain, and names bad frequencies", () => {
    expect(poissonFit([5, 3])).toBeNull();
    expect(poissonFit([40, 30, 12])).toMatchObject({ classes: 3, degreesOfFreedom: 1 });
    expect(() => poissonFit([5])).toThrow("frequencies: must hold at least one object");
    expect(() => poissonFit([])).toThrow("frequencies: must hold at least one object");
    expect(() => poissonFit([5, 1.5])).toThrow("frequencies.1: must be a whole number");
  });

  it("gives a p for any frequencies it can judge", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 80 }), { minLength: 2, maxLength: 15 }),
        (frequencies) => {
          fc.pre(frequencies.slice(1).some((fields) => fields > 0));
          const fit = poissonFit(frequencies);
          if (!fit) return;
          expect(fit.statistic).toBeGreaterThanOrEqual(0);
          expect(fit.p).toBeGreaterThanOrEqual(0);
          expect(fit.p).toBeLessThanOrEqual(1);
          expect(fit.degreesOfFreedom).toBe(fit.classes - 2);
        },
      ),
    );
  });
});

describe("the choice of samples for a recount", () => {
  const random = fc.infiniteStream(fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }));

  it("takes the share rounded up, each sample at most once", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 1, max: 100 }),
        random,
        (n, percent, draws) => {
          const samples = Array.from({ length: n }, (_, index) => index);
          const chosen = chooseForRecount(samples, percent / 100, () => Number(draws.next().value));
          expect(chosen).toHaveLength(Math.ceil((n * percent) / 100));
          expect(new Set(chosen).size).toBe(chosen.length);
        },
      ),
    );
  });

  it("can reach every sample", () => {
    const samples = ["a", "b", "c", "d"];
    const reached = [0, 0.25, 0.5, 0.99].map(
      (draw) => chooseForRecount(samples, RECOUNT_SHARE.share, () => draw)[0],
    );
    expect(reached).toEqual(samples);
  });

  it("names what it cannot use", () => {
    expect(() => chooseForRecount([], 0.1, () => 0)).toThrow("samples: must not be empty");
    expect(() => chooseForRecount([1], 0, () => 0)).toThrow("share: must be greater than 0");
    expect(() => chooseForRecount([1], 1, () => 1)).toThrow("random: must give numbers from 0");
  });
});
