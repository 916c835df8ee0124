import { describe, expect, it } from "vitest";
import { PROPOSED_PRACTICE_CRITERIA } from "#core/contract/records/practice.ts";
import { lineUp } from "#core/practice/exercises/line-up.ts";
import { trueFactorUm } from "#core/practice/view/scene.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { evenChance } from "#core/uncertainty/chance-generator.ts";
import { firstView } from "../../support/practice-reader.ts";

const TRIALS = 1000;

function normal(seed: number): () => number {
  const even = evenChance(seed);
  return () => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
}

/** A reader who turns the slide straight, sets its first line anywhere left and reads a line far right with some scatter. */
function attemptOf(seed: number, scatter: number, stretch = 1, span = 85) {
  const chance = normal(seed + 31_337);
  const factor = trueFactorUm(firstView(lineUp, seed, 1).optics);
  const lineTo = Math.floor((span * factor) / 10) * 10;
  const answers = Array.from({ length: lineUp.tasks }, () => {
    const from = 3 + 2 * Math.abs(chance());
    const to = from + (lineTo / factor) * stretch;
    const read = (place: number): string => Math.min(100, Math.max(0, place + scatter * chance())).toFixed(1);
    return {
      typed: {
        reticleFrom: read(from),
        lineFrom: "0",
        reticleTo: read(to),
        lineTo: String(lineTo),
        turned: "-0.4",
      },
      seconds: decimal(40),
    };
  });
  return lineUp.score(seed, answers, PROPOSED_PRACTICE_CRITERIA);
}

const part = (of: (seed: number) => boolean): number => {
  let hits = 0;
  for (let seed = 1; seed <= TRIALS; seed += 1) if (of(seed)) hits += 1;
  return hits / TRIALS;
};

describe("the score of settings", () => {
  it("has an interval that covers the drawn factor 95 of 100 times, and E_n says so", () => {
    const covered = part((seed) => {
      const { figures } = attemptOf(seed, 0.08);
      const factor = figures.find(({ name }) => name === "factor");
      const en = Number(figures.find(({ name }) => name === "en")?.value);
      const holds = Number(factor?.lower) <= 0 && 0 <= Number(factor?.upper);
      expect(holds).toBe(en <= 1);
      return holds;
    });
    expect(Math.abs(covered - 0.95)).toBeLessThan(0.021);
  });

  it("recovers the bias of one who reads too long a scale, and the scatter of single settings, 95 of 100 times", () => {
    const bias = part((seed) => {
      const figure = attemptOf(seed, 0.08, 1.01).figures.find(({ name }) => name === "factor");
      const truth = 100 * (1 / 1.01 - 1);
      return Number(figure?.lower) <= truth && truth <= Number(figure?.upper);
    });
    expect(Math.abs(bias - 0.95)).toBeLessThan(0.021);
    const scatter = part((seed) => {
      const factor = trueFactorUm(firstView(lineUp, seed, 1).optics);
      const divisions = (Math.floor((85 * factor) / 10) * 10) / factor;
      // Two readings, each with its scatter and rounded to a tenth (JCGM 100:2008 F.2.2.1).
      const truth = (100 * Math.sqrt(2 * (0.08 ** 2 + 0.1 ** 2 / 12))) / divisions;
      const figure = attemptOf(seed, 0.08).figures.find(({ name }) => name === "settings");
      return Number(figure?.lower) <= truth && truth <= Number(figure?.upper);
    });
    expect(Math.abs(scatter - 0.95)).toBeLessThan(0.021);
  });

  it("fails somebody whose factor is exactly at the limit at most 2.5 times in a hundred", () => {
    // Three standard deviations of 0.025 among a thousand: 0.015.
    for (const stretch of [1 / 1.005, 1 / 0.995])
      expect(part((seed) => attemptOf(seed, 0.08, stretch).verdict === "not met")).toBeLessThan(
        0.025 + 0.015,
      );
  });

  it("fails a good reader hardly ever, one who takes a wrong line always, and a short span by its name", () => {
    expect(part((seed) => attemptOf(seed, 0.08).verdict === "not met")).toBeLessThan(0.005);
    expect(part((seed) => attemptOf(seed, 0.08, 1.02).verdict === "not met")).toBeGreaterThan(0.99);
    const short = attemptOf(3, 0.05, 1, 30);
    expect(short.verdict).toBe("not met");
    expect(short.figures.find(({ name }) => name === "span")?.exceeded).toBe(true);
    expect(short.figures.find(({ name }) => name === "turned")?.value).toBe("0.4");
  });
});

describe("a setting", () => {
  const good = { reticleFrom: "2.0", lineFrom: "0", reticleTo: "97,4", lineTo: "470", turned: "0.1" };
  it.each([
    [{ ...good, reticleFrom: "-1" }, "reticleFrom", "must lie on the scale"],
    [{ ...good, reticleTo: "101" }, "reticleTo", "must lie on the scale"],
    [{ ...good, lineTo: "475" }, "lineTo", "must be a line of the slide"],
    [{ ...good, lineTo: "1010" }, "lineTo", "must be a line of the slide"],
    [{ ...good, reticleTo: "1" }, "reticleTo", "right of the left reading"],
    [{ ...good, lineFrom: "470" }, "lineTo", "right of the left line"],
    [{ ...good, lineFrom: "" }, "lineFrom", "is empty"],
    [{ ...good, turned: "200" }, "turned", "within 180"],
  ])("%j is refused at %s: %s", (typed, field, words) => {
    expect(() => lineUp.readAnswer(typed)).toThrow(`typed.${field}`);
    expect(() => lineUp.readAnswer(typed)).toThrow(words);
  });

  it("is taken with a point or a comma", () => {
    expect(() => lineUp.readAnswer(good)).not.toThrow();
  });
});

describe("the drawn microscope", () => {
  it("is the same for all settings of a run and is never quite what it says; the slide lies elsewhere each time", () => {
    const factors = Array.from({ length: 200 }, (_, seed) => trueFactorUm(firstView(lineUp, seed, 1).optics));
    expect(new Set(factors).size).toBeGreaterThan(190);
    const [first, second] = [firstView(lineUp, 4, 1), firstView(lineUp, 4, 2)];
    expect(first.optics).toEqual(second.optics);
    expect(first.placing).not.toEqual(second.placing);
  });
});
