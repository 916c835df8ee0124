import { describe, expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import { defaultTypedConditions } from "#core/calibration/default-conditions.ts";
import { pooledRepeatability } from "#core/calibration/repeatability.ts";
import { readCalibration } from "#core/calibration/typed-calibration.ts";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { sizeOfDivisions } from "#core/measurement/size-of-divisions.ts";
import { readReadingConditions } from "#core/measurement/typed-reading.ts";
import { ALL_EXERCISES, exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import { lineUp } from "#core/practice/exercises/line-up.ts";
import { tenths } from "#core/practice/exercises/tenths.ts";
import { trueFactorUm } from "#core/practice/view/scene.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { chiSquaredQuantile } from "#core/statistics/distributions.ts";
import { evenChance } from "#core/uncertainty/chance-generator.ts";
import { firstView, trueReadings } from "../../support/practice-reader.ts";

const TRIALS = 400;
/** Three standard deviations of a share of 0.95 in so many trials. */
const SLACK = 3 * Math.sqrt((0.95 * 0.05) / TRIALS);

function normal(seed: number): () => number {
  const even = evenChance(seed);
  return () => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
}

/** How often s lies within the χ² limits about the true σ of a pair (JCGM 100:2008 C.3.2; the limits from memory). */
function coverage(
  sigma: number,
  scatterOf: (seed: number) => { deviation: number; settings: number },
): number {
  let hits = 0;
  for (let seed = 1; seed <= TRIALS; seed += 1) {
    const { deviation, settings } = scatterOf(seed);
    const degrees = settings - 1;
    const ratio = (degrees * deviation ** 2) / sigma ** 2;
    if (ratio >= chiSquaredQuantile(0.025, degrees) && ratio <= chiSquaredQuantile(0.975, degrees)) hits += 1;
  }
  return hits / TRIALS;
}

const scatterOf = (
  { pairScatter }: (typeof ALL_EXERCISES)[number],
  seed: number,
  typed: Record<string, string>[],
) => {
  const found = pairScatter?.(
    seed,
    typed.map((one) => ({ typed: one, seconds: decimal(1) })),
  );
  if (!found) throw new Error("no scatter");
  return { deviation: found.deviation.toNumber(), settings: found.settings };
};

describe("the scatter of a setting of two edges", () => {
  it("of a reader of tenths of known scatter at one edge is √2 of it, within its limits 95 of 100 times", () => {
    const edge = 0.08;
    const found = coverage(Math.SQRT2 * edge, (seed) => {
      const chance = normal(seed + 4_321);
      return scatterOf(
        tenths,
        seed,
        trueReadings(seed).map((truth) => ({ reading: (truth + 0.3 + edge * chance()).toFixed(6) })),
      );
    });
    expect(Math.abs(found - 0.95)).toBeLessThan(SLACK);
  });

  it("of settings of known scatter is found from the settings alone, though the factor is not known", () => {
    const edge = 0.1;
    const found = coverage(Math.SQRT2 * edge, (seed) => {
      const chance = normal(seed + 999);
      return scatterOf(
        lineUp,
        seed,
        Array.from({ length: lineUp.tasks }, (_, index) => {
          const factor = trueFactorUm(firstView(lineUp, seed, index + 1).optics);
          const length = Math.floor((80 * factor) / 10) * 10;
          const read = (divisions: number): string => (divisions + edge * chance()).toFixed(6);
          return {
            reticleFrom: read(10),
            lineFrom: "0",
            reticleTo: read(10 + length / factor),
            lineTo: String(length),
            turned: "0.0",
          };
        }),
      );
    });
    expect(Math.abs(found - 0.95)).toBeLessThan(SLACK);
  });

  it("by hand: errors of 0.1, 0, −0.1 div give s = 0.1 and 0.1414 div for a pair", () => {
    const truths = trueReadings(5113).slice(0, 3);
    const typed = [0.1, 0, -0.1].map((error, index) => ({
      reading: ((truths[index] ?? 0) + error).toFixed(3),
    }));
    const { deviation, settings } = scatterOf(tenths, 5113, typed);
    expect(deviation).toBeCloseTo(0.1 * Math.SQRT2, 6);
    expect(settings).toBe(3);
  });

  it("is left out by exercises whose answers say nothing of it, and never zero degrees of freedom by one that does", () => {
    for (const { name, tasks } of ALL_EXERCISES) {
      if (exerciseNamed(name).pairScatter) expect(tasks).toBeGreaterThan(2);
    }
  });
});

describe("a budget with one setting", () => {
  const typed = {
    settings: [{ reticleLeft: "0.0", reticleRight: "96.4", lineLeft: "0", lineRight: "100" }],
    conditions: defaultTypedConditions(),
    estimator: "origin-regression" as const,
    coverage: "t95" as const,
    scale: {
      lines: [
        { nominal: "0", error: "0" },
        { nominal: "1000", error: "0" },
      ],
      expandedUncertainty: "0.5",
      coverageFactor: "2",
    },
    linePitchUm: "10",
  };

  it("names practice as the origin of the scatter that was taken, its s, ν and attempts", () => {
    const pooled = pooledRepeatability([{ deviation: decimal("0.1"), settings: 40 }], "practice");
    if (!pooled) throw new Error("too little");
    const { budget } = calibrate({ ...readCalibration(typed), rule: 2, pooled });
    const line = budget.find(({ name }) => name.startsWith("Repeatability"));
    expect(line?.name).toBe(
      "Repeatability of one setting (s = 0.1 div, ν = 39, practice: pooled from 1 attempt of this person at a drawn eyepiece)",
    );
    expect(line?.standardUncertainty.toNumber()).toBeCloseTo(0.1, 12);
    expect(line?.degreesOfFreedom?.toNumber()).toBe(39);
  });

  it("of a size names whose scatter a single reading takes, and nobody's where it was typed or read twice", () => {
    const nameOf = (divisions: readonly string[], repeatabilitySource?: string): string =>
      sizeOfDivisions({
        divisions: divisions.map((one) => decimal(one)),
        factor: { factor: decimal("2.5"), standardUncertainty: decimal("0.003"), degreesOfFreedom: null },
        conditions: readReadingConditions({
          ...defaultTypedReadingConditions(),
          ...(repeatabilitySource && { repeatabilitySource }),
        }),
        coverage: "t95",
      }).budget.find(({ key }) => key === "repeatability")?.name ?? "";
    expect(nameOf(["18.3"], "practice of Ada Example")).toBe(
      "Repeatability of one reading (practice of Ada Example)",
    );
    expect(nameOf(["18.3"])).toBe("Repeatability of the reading");
    expect(nameOf(["18.3", "18.4"], "practice of Ada Example")).toBe("Repeatability of the reading");
  });
});
