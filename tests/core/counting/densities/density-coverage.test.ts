import { describe, expect, it } from "vitest";
import { densityOf } from "#core/counting/densities/density.ts";
import { reportDensity } from "#core/counting/densities/reported-density.ts";
import { evidenceOfFields } from "#core/counting/intervals/count-evidence.ts";
import { FIBRES_ON_FILTER } from "#core/counting/methods/ready-bench-methods.ts";
import { tallyResults } from "#core/counting/results/tally-results.ts";
import { exactly } from "#core/quantity/uncertain-product.ts";
import { studentQuantile } from "#core/statistics/distributions.ts";
import { areaFactor, countedGround, fieldCounts } from "../../../support/count-grounds.ts";
import { coverageOfFields } from "../../../support/simulated-fields.ts";

const RUN = { trials: 1500, seed: 13 } as const;
const TODAY = { ...RUN, rule: "larger-of-two" } as const;
const BEFORE = { ...RUN, rule: "clustered-only" } as const;

/* Simulated, all inputs invented; `npm run bench -- count-coverage` prints the whole table. */
describe("the interval of a density", () => {
  it.each([
    [1, 5],
    [1, 20],
    [5, 2],
    [5, 3],
    [5, 10],
    [20, 3],
    [20, 20],
  ])("holds the truth for objects at random, %s a field in %s fields", (mean, number) => {
    const { byU, byLimits } = coverageOfFields({ mean, exponent: null }, number, TODAY);
    expect(Math.min(byU, byLimits)).toBeGreaterThan(0.94);
  });

  it.each([
    [20, 20, 2],
    [20, 20, 5],
    [20, 20, 10],
    [20, 20, 50],
    [5, 10, 3],
    [5, 10, 10],
    [5, 10, 20],
  ])("holds it where they cluster, %s a field, k = %s, in %s fields", (mean, exponent, number) => {
    const { byU, byLimits } = coverageOfFields({ mean, exponent }, number, TODAY);
    expect(Math.min(byU, byLimits)).toBeGreaterThan(0.92);
  });

  it("was too narrow for clusters that the dispersion test does not see", () => {
    const clusters = { mean: 20, exponent: 20 };
    for (const number of [2, 3, 5]) {
      expect(coverageOfFields(clusters, number, BEFORE).byU).toBeLessThan(0.9);
    }
  });

  it("comes short of 95 % where a few fields hold nearly everything, and by less than it did", () => {
    const clusters = { mean: 5, exponent: 0.5 };
    for (const number of [3, 5, 10]) {
      const today = coverageOfFields(clusters, number, TODAY).byU;
      expect(today).toBeGreaterThan(0.78);
      expect(today).toBeGreaterThan(coverageOfFields(clusters, number, BEFORE).byU);
    }
  });
});

describe("the fields of a fibre count", () => {
  const AREA = { diameter: "10", airVolume: "480" };
  const ground = (counts: readonly number[]) =>
    countedGround(FIBRES_ON_FILTER, fieldCounts(counts.map((fibre) => ({ fibre }))), AREA, areaFactor("10"));

  /** Ten fields of invented clustered fibres, x̄ and s by hand: U of the count is t(0.975, 9)·s·√10. */
  it("are its unit: clusters widen U, with t of n − 1", () => {
    const counts = [1, 0, 14, 2, 0, 11, 3, 0, 9, 20];
    const [loading] = tallyResults(ground(counts)).densities;
    const s = Math.sqrt(50.22222222222222);
    expect(loading?.basis).toBe("between-fields");
    expect(loading?.degreesOfFreedom).toBe(9);
    expect(Number(loading?.coverageFactor)).toBeCloseTo(studentQuantile(0.975, 9), 10);
    expect(Number(loading?.expanded) / Number(loading?.value)).toBeCloseTo(
      (2.262157162798205 * s) / Math.sqrt(10) / 6,
      9,
    );
  });

  it("are told apart from the blank, and leave an even count to Poisson", () => {
    const even = ground([2, 3, 2, 3, 2, 3, 2, 3, 2, 3]);
    const { densities } = tallyResults({
      ...even,
      inputs: { ...even.inputs, blankCount: "4", blankFields: "100" },
    });
    expect(densities[0]?.components.map(({ key }) => key)).toContain("blank");
    expect(densities[0]?.basis).toBe("poisson");
    expect(densities[0]?.degreesOfFreedom).toBeUndefined();
    expect(Number(densities[0]?.coverageFactor)).toBeCloseTo(1.959963984540054, 10);
  });

  it("stand as they were frozen under the rule of earlier versions", () => {
    const clumped = { ...ground([1, 0, 14, 2, 0, 11, 3, 0, 9, 20]), countRule: "clustered-only" } as const;
    const { densities, countRule } = tallyResults(clumped);
    expect(countRule).toBeUndefined();
    expect(densities[0]?.coverageFactor).toBe("2");
    expect(densities[0]?.shown).toContain("(k = 2, count and area)");
    expect(Number(densities[0]?.expanded) / Number(densities[0]?.value)).toBeCloseTo(2 / Math.sqrt(60), 9);
  });
});

describe("a rare taxon", () => {
  const shown = (counts: readonly number[]) =>
    reportDensity(densityOf(evidenceOfFields(counts), exactly("perObject", "30", "/mL"))).text;

  /** Garwood (1936), printed limits of 3 at 95 %: 0.6187 and 8.7673 objects. */
  it("is told by its limits where ± would reach below nothing", () => {
    const counts = [0, 1, 0, 0, 1, 0, 0, 0, 1, 0];
    const { lower, upper } = evidenceOfFields(counts);
    expect(lower).toBeCloseTo(0.618672, 6);
    expect(upper).toBeCloseTo(8.767273, 6);
    expect(shown(counts)).toBe("90 /mL (95 %: 19 to 260 /mL)");
  });

  it("keeps ± as soon as it stays above nothing", () => {
    expect(shown([1, 0, 1, 1, 0, 1, 0, 1, 0, 1])).toBe("180 ± 140 /mL (k = 1.96)");
  });
});
