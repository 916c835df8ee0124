import { describe, expect, it } from "vitest";
import { PROPOSED_PRACTICE_CRITERIA } from "#core/contract/records/practice.ts";
import { tenths } from "#core/practice/exercises/tenths.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { equalDigitsP } from "#core/statistics/equal-digits-test.ts";
import { evenChance } from "#core/uncertainty/chance-generator.ts";
import { trueReadings } from "../../support/practice-reader.ts";

const TRIALS = 1000;

/** Normal numbers by Box and Muller. */
function normal(seed: number): () => number {
  const even = evenChance(seed);
  return () => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
}

/** A reader of known bias and scatter, in divisions; rounds to tenths like everybody. */
function attemptOf(seed: number, bias: number, scatter: number) {
  const chance = normal(seed + 77_777);
  const answers = trueReadings(seed).map((truth) => ({
    typed: { reading: Math.min(100, Math.max(0, truth + bias + scatter * chance())).toFixed(1) },
    seconds: decimal(4),
  }));
  return tenths.score(seed, answers, PROPOSED_PRACTICE_CRITERIA);
}

/** What rounding to tenths adds to the scatter: 0.1/√12 (JCGM 100:2008 F.2.2.1). */
const ROUNDING = 0.1 / Math.sqrt(12);

function part(of: (seed: number) => boolean): number {
  let hits = 0;
  for (let seed = 1; seed <= TRIALS; seed += 1) if (of(seed)) hits += 1;
  return hits / TRIALS;
}

describe("the score of readings in tenths", () => {
  it("finds bias and scatter of a known reader within the stated interval, 95 of 100 times", () => {
    const results = Array.from({ length: TRIALS }, (_, index) => attemptOf(index + 1, 0.04, 0.08));
    const within = (name: string, truth: number): number =>
      results.filter(({ figures }) => {
        const figure = figures.find((one) => one.name === name);
        return Number(figure?.lower) <= truth && truth <= Number(figure?.upper);
      }).length / TRIALS;
    // Three standard deviations of a share of 0.95 in a thousand trials: 0.021.
    expect(Math.abs(within("bias", 0.04) - 0.95)).toBeLessThan(0.021);
    expect(Math.abs(within("scatter", Math.hypot(0.08, ROUNDING)) - 0.95)).toBeLessThan(0.021);
  });

  it("fails a reader who is exactly at both limits at most five times in a hundred", () => {
    const scatter = Math.sqrt(0.1 ** 2 - ROUNDING ** 2);
    const failed = part((seed) => attemptOf(seed, 0.05, scatter).verdict === "not met");
    expect(failed).toBeLessThan(0.05 + 0.021);
    expect(failed).toBeGreaterThan(0.02);
  });

  it("fails a good reader hardly ever, and one twice as scattered or far off nearly always", () => {
    expect(part((seed) => attemptOf(seed, 0.01, 0.06).verdict === "not met")).toBeLessThan(0.005);
    expect(part((seed) => attemptOf(seed, 0, 0.2).verdict === "not met")).toBeGreaterThan(0.99);
    expect(part((seed) => attemptOf(seed, -0.15, 0.07).verdict === "not met")).toBeGreaterThan(0.99);
  });

  it("calls the final digits of a fair reader uneven as often as it says, and finds one who reads halves", () => {
    const p = (seed: number, scatter: number): number =>
      Number(attemptOf(seed, 0, scatter).figures.find(({ name }) => name === "digits")?.value);
    expect(part((seed) => p(seed, 0.08) < 0.05)).toBeLessThan(0.05 + 0.021);
    const halves = trueReadings(5).map((truth) => ({
      typed: { reading: (Math.round(truth * 2) / 2).toFixed(1) },
      seconds: decimal(3),
    }));
    const found = tenths.score(5, halves, PROPOSED_PRACTICE_CRITERIA);
    expect(Number(found.figures.find(({ name }) => name === "digits")?.value)).toBeLessThan(1e-9);
    expect(found.verdict).toBe("not met");
  });

  it("sees a reader get better over the run", () => {
    const slopes = Array.from({ length: 200 }, (_, index) => {
      const chance = normal(index + 5);
      const answers = trueReadings(index + 1).map((truth, place) => ({
        typed: { reading: (truth + (0.5 - 0.012 * place) * chance()).toFixed(1) },
        seconds: decimal(3),
      }));
      return tenths
        .score(index + 1, answers, PROPOSED_PRACTICE_CRITERIA)
        .figures.find(({ name }) => name === "learning");
    });
    expect(slopes.filter((figure) => Number(figure?.upper) < 0).length / 200).toBeGreaterThan(0.8);
  });
});

describe("an answer", () => {
  it.each([
    ["", "is empty: type a number"],
    ["43", "read to tenths"],
    ["43.25", "read to tenths"],
    ["101.0", "must lie on the scale"],
    ["4e1", "without an exponent"],
  ])("%j is refused: %s", (reading, words) => {
    expect(() => tenths.readAnswer({ reading })).toThrow(words);
  });

  it("may be typed with a comma", () => {
    expect(() => tenths.readAnswer({ reading: "43,7" })).not.toThrow();
  });
});

describe("tasks", () => {
  it("are the same for the same seed, others for another; every tenth comes as often", () => {
    expect(tenths.task(9, 3)).toEqual(tenths.task(9, 3));
    expect(trueReadings(9)).not.toEqual(trueReadings(10));
    const digits = new Array<number>(10).fill(0);
    for (let seed = 1; seed <= 250; seed += 1) {
      for (const truth of trueReadings(seed))
        digits[Math.floor(truth * 10) % 10] = (digits[Math.floor(truth * 10) % 10] ?? 0) + 1;
    }
    // 10,000 readings: 1,000 of each digit, standard deviation 30.
    for (const count of digits) expect(Math.abs(count - 1000)).toBeLessThan(120);
  });
});

describe("exact p of equal digits", () => {
  it("agrees with counting every way by hand", () => {
    // Four throws of a coin: 2+2 in 6 ways, 3+1 in 8, 4+0 in 2 of 16.
    expect(equalDigitsP([2, 2])).toBeCloseTo(1, 12);
    expect(equalDigitsP([3, 1])).toBeCloseTo(10 / 16, 12);
    expect(equalDigitsP([4, 0])).toBeCloseTo(2 / 16, 12);
    // Three things in three cells: one each in 6 of 27 ways, all in one cell in 3.
    expect(equalDigitsP([1, 1, 1])).toBeCloseTo(1, 12);
    expect(equalDigitsP([3, 0, 0])).toBeCloseTo(3 / 27, 12);
  });
});
