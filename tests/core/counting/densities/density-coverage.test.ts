import { describe, expect, it } from "vitest";
import { densityOf } from "#core/counting/densities/density.ts";
import { besideMarker, markerRatioLimits } from "#core/counting/densities/marker-count.ts";
import { reportDensity } from "#core/counting/densities/reported-density.ts";
import { evidenceOfFields } from "#core/counting/intervals/count-evidence.ts";
import { dispersionTest } from "#core/counting/intervals/dispersion-test.ts";
import { skewedCaution } from "#core/counting/intervals/skewed-fields.ts";
import { FIBRES_ON_FILTER } from "#core/counting/methods/ready-bench-methods.ts";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { countResults } from "#core/counting/results/count-results.ts";
import { exactly } from "#core/quantity/uncertain-product.ts";
import { studentQuantile } from "#core/statistics/distributions.ts";
import { areaFactor, countData, fieldCounts } from "../../../support/count-data.ts";
import { coverageOfFields, drawnFields, uniformFrom } from "../../../support/simulated-fields.ts";

const RUN = { trials: 1500, seed: 13 } as const;
const TODAY = { ...RUN, rule: "skewed-limits" } as const;
const LARGER_OF_TWO = { ...RUN, rule: "larger-of-two" } as const;
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

  it.each([
    [20, 2, 5],
    [10, 1, 10],
    [5, 0.5, 5],
    [5, 0.5, 10],
    [5, 0.5, 20],
    [20, 0.5, 10],
  ])(
    "holds it as printed where they cluster strongly, %s a field, k = %s, in %s fields",
    (mean, exponent, n) => {
      const today = coverageOfFields({ mean, exponent }, n, TODAY);
      expect(today.asPrinted).toBeGreaterThan(0.93);
      expect(today.asPrinted).toBeLessThan(0.98);
      expect(coverageOfFields({ mean, exponent }, n, LARGER_OF_TWO).asPrinted).toBeLessThan(0.93);
    },
  );

  it.each([
    [5, 10],
    [20, 5],
    [20, 20],
  ])("is no wider than before for objects at random, %s a field in %s fields", (mean, number) => {
    const [today, before] = [TODAY, LARGER_OF_TWO].map((run) =>
      coverageOfFields({ mean, exponent: null }, number, run),
    );
    expect(today?.asPrinted).toBeLessThan(0.98);
    expect((today?.asPrinted ?? 1) - (before?.asPrinted ?? 0)).toBeLessThan(0.01);
  });

  it("comes short of 95 % for ± U of fields that differ strongly, as its caution says", () => {
    for (const [fields, counts] of [
      [5, [1, 14, 2, 0, 6]],
      [10, [1, 0, 14, 2, 0, 11, 3, 0, 9, 20]],
      [20, [0, 2, 15, 1, 0, 9, 22, 3, 0, 5, 1, 18, 0, 4, 0, 11, 2, 0, 7, 0]],
    ] as const) {
      const { byU, byLimits } = coverageOfFields({ mean: 5, exponent: 0.5 }, fields, TODAY);
      const [, u, limits] =
        /in about (\d+) of 100 counts.*in about (\d+)\./.exec(skewedCaution(dispersionTest(counts)) ?? "") ??
        [];
      expect(Math.abs(Number(u) - 100 * byU)).toBeLessThan(2.5);
      expect(Math.abs(Number(limits) - 100 * byLimits)).toBeLessThan(2.5);
    }
    expect(skewedCaution(dispersionTest([7, 5, 9, 6, 8]))).toBeNull();
    expect(skewedCaution(dispersionTest([30, 12, 41, 25, 9]))).toBeNull();
  });
});

describe("limits by marker spores", () => {
  /* Roots of (x − u·m)² = z²·u·(x + m), worked out in Python with scipy 1.17. */
  it.each([
    [300, 250, 1.0147848863993547, 1.4190199512227537],
    [3, 20, 0.04753349907982937, 0.4733503831100828],
    [25, 400, 0.04183816538800496, 0.0933657096044638],
    [0, 40, 0, 0.09603647051735313],
  ])("of %s grains beside %s markers", (grains, marker, lower, upper) => {
    const limits = markerRatioLimits(grains, marker);
    expect(limits.lower).toBeCloseTo(lower, 10);
    expect(limits.upper).toBeCloseTo(upper, 10);
  });

  it("take counts in decimals, whatever their binary sum", () => {
    expect(markerRatioLimits(0.1, 0.2).upper).toBeGreaterThan(0.5);
  });

  it.each([
    [3, 20],
    [12, 20],
    [60, 40],
    [300, 200],
  ])("hold the true ratio of %s grains to %s markers, which the grains' alone do not", (grains, markers) => {
    const uniform = uniformFrom(13);
    const trials = 2000;
    let both = 0;
    let alone = 0;
    for (let trial = 0; trial < trials; trial += 1) {
      const [counted = 0] = drawnFields({ mean: grains, exponent: null }, 1, uniform);
      const marker = Math.max(1, drawnFields({ mean: markers, exponent: null }, 1, uniform)[0] ?? 0);
      const { lower, upper } = besideMarker(evidenceOfFields([counted]), marker);
      const truth = (grains / markers) * marker;
      if (lower <= truth && truth <= upper) both += 1;
      const count = evidenceOfFields([counted]);
      if (count.lower <= truth && truth <= count.upper) alone += 1;
    }
    expect(both / trials).toBeGreaterThan(0.935);
    expect(both / trials).toBeLessThan(0.98);
    if (grains > 3) expect(alone / trials).toBeLessThan(0.93);
  });

  it("are those of the result, and of none counted beside few", () => {
    const of = (betula: number, marker: number) =>
      countResults(
        countData(POLLEN_MARKER, fieldCounts([{ betula, marker }]), {
          markerTablets: "1",
          sporesPerTablet: "18583",
          sampleSize: "1",
        }),
      ).densities.find((one) => one.of === "betula");
    expect(Number(of(3, 20)?.upper)).toBeCloseTo(0.4733503831100828 * 18583, 5);
    expect(of(3, 20)?.shown).toBe("2800 grains/cm³ (95 %: 880 to 8800 grains/cm³)");
    // (1 − p)^20 = 0.05: 3.2317 objects' worth, not 2.996.
    expect(Number(of(0, 20)?.lessThan)).toBeCloseTo((3.231726992830848 * 18583) / 20, 5);
  });

  it("of counts closed before are those of the grains alone", () => {
    const data = countData(POLLEN_MARKER, fieldCounts([{ betula: 3, marker: 20 }]), {
      markerTablets: "1",
      sporesPerTablet: "18583",
      sampleSize: "1",
    });
    const before = countResults({ ...data, countRule: "larger-of-two" });
    // Garwood (1936), 3 objects: 0.618672 to 8.767273.
    expect(before.countRule).toBe("larger-of-two");
    expect(Number(before.densities[0]?.upper)).toBeCloseTo((8.767273 * 18583) / 20, 1);
  });
});

describe("the fields of a fibre count", () => {
  const AREA = { diameter: "10", airVolume: "480" };
  const data = (counts: readonly number[]) =>
    countData(FIBRES_ON_FILTER, fieldCounts(counts.map((fibre) => ({ fibre }))), AREA, areaFactor("10"));

  /** Ten fields of invented clustered fibres, x̄ and s by hand: U of the count is t(0.975, 9)·s·√10. */
  it("are its unit: clusters widen U, with t of n − 1", () => {
    const counts = [1, 0, 14, 2, 0, 11, 3, 0, 9, 20];
    const [loading] = countResults(data(counts)).densities;
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
    const even = data([2, 3, 2, 3, 2, 3, 2, 3, 2, 3]);
    const { densities } = countResults({
      ...even,
      inputs: { ...even.inputs, blankCount: "4", blankFields: "100" },
    });
    expect(densities[0]?.components.map(({ key }) => key)).toContain("blank");
    expect(densities[0]?.basis).toBe("poisson");
    expect(densities[0]?.degreesOfFreedom).toBeUndefined();
    expect(Number(densities[0]?.coverageFactor)).toBeCloseTo(1.959963984540054, 10);
  });

  it("stand as they were frozen under the rule of earlier versions", () => {
    const clumped = { ...data([1, 0, 14, 2, 0, 11, 3, 0, 9, 20]), countRule: "clustered-only" } as const;
    const { densities, countRule } = countResults(clumped);
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
