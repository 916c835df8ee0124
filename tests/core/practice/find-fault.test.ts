import { describe, expect, it } from "vitest";
import { detect } from "#core/calibration/detective.ts";
import { PROPOSED_PRACTICE_CRITERIA } from "#core/contract/records/practice.ts";
import { FAULTS, type Fault, type FaultyBench, faultyBench } from "#core/practice/exercises/faulty-bench.ts";
import { findFault } from "#core/practice/exercises/find-fault.ts";
import { FREE_OBJECTIVES } from "#core/practice/free-view.ts";
import { trueFactorUm } from "#core/practice/view/scene.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { evenChance } from "#core/uncertainty/chance-generator.ts";
import { holds, partOfReaders, SHARE_SCATTER } from "../../support/answer-shares.ts";

/** Benches of many runs. */
const BENCHES = Array.from({ length: 1200 }, (_, index) =>
  faultyBench(1 + Math.floor(index / findFault.tasks), 1 + (index % findFault.tasks)),
);

/** What the detective of Calibrate says of the factor that a careful reader finds on such a bench. */
function suspectsOf({ entered, optics, ruling, placing }: FaultyBench) {
  const perLine = trueFactorUm(optics) / Math.cos((placing.turnedDeg * Math.PI) / 180);
  // Lines are taken to be 10 µm apart, as entered.
  const measured = decimal(((perLine * 10) / ruling.pitchUm).toFixed(6));
  const nominal = decimal(100).div(entered.objective);
  const turret = FREE_OBJECTIVES.filter(({ objective }) => objective !== entered.objective).map(
    ({ objective }) => ({ name: `${objective}×`, magnification: decimal(objective) }),
  );
  const { normal, suspects } = detect(measured, nominal, decimal(entered.objective), turret);
  return { normal, causes: suspects.map(({ cause }) => cause).join("\n") };
}

/** Words of the detective's table that name a fault by its ratio. */
const BY_RATIO: Readonly<Partial<Record<Fault, RegExp>>> = {
  changer: /changer stood at .* but was entered as 1×/,
  objective: /of this turret was used/,
  reticle: /5 mm long but was entered as 10 mm/,
  "coarse lines": /ten times too close/,
  inch: /thousandths of an inch/,
};

describe("benches with a fault", () => {
  it("are known to the detective by their ratio; the others leave a normal factor and show in the view or the papers", () => {
    for (const bench of BENCHES) {
      const { normal, causes } = suspectsOf(bench);
      const words = BY_RATIO[bench.fault];
      if (words) expect(causes).toMatch(words);
      else if (bench.fault !== "turned") expect(normal).toBe(true);
    }
  });

  it("show each fault where it belongs and nowhere else", () => {
    for (const { fault, optics, placing, parallaxMm, certified, added, entered } of BENCHES) {
      expect(Math.abs(placing.turnedDeg) > 5).toBe(fault === "turned");
      expect(parallaxMm > 0).toBe(fault === "eyepiece");
      expect(certified !== added).toBe(fault === "sign");
      expect(optics.reticle.lengthMm === 5).toBe(fault === "reticle");
      expect(optics.intermediate !== 1).toBe(fault === "changer");
      expect(Math.abs(optics.objective / entered.objective - 1) > 0.03).toBe(fault === "objective");
    }
  });

  it("are sound one time in four, and every fault comes as often as every other", () => {
    const times = (fault: Fault): number => BENCHES.filter((bench) => bench.fault === fault).length;
    // 300 of 1,200 expected, standard deviation 15; 112.5 of each fault, standard deviation 10.
    expect(Math.abs(times("nothing") - 300)).toBeLessThan(60);
    for (const fault of FAULTS.slice(1)) expect(Math.abs(times(fault) - 112.5)).toBeLessThan(40);
  });
});

/** Somebody who names the fault with a known chance, and otherwise another. */
function resultOf(seed: number, chanceRight: number) {
  const chance = evenChance(seed + 55_555);
  const answers = Array.from({ length: findFault.tasks }, (_, index) => {
    const truth = FAULTS.indexOf(faultyBench(seed, index + 1).fault);
    const away = chance() < chanceRight ? 0 : 1 + Math.floor(chance() * (FAULTS.length - 1));
    const looks = String(1 + Math.floor(chance() * 5));
    return {
      typed: { fault: FAULTS[(truth + away) % FAULTS.length] ?? "", looks },
      seconds: decimal(30),
    };
  });
  return findFault.score(seed, answers, PROPOSED_PRACTICE_CRITERIA);
}

describe("the score of right answers", () => {
  it("recovers a known share of right answers at least 95 of 100 times, as exact limits do", () => {
    for (const share of [0.5, 0.75, 0.9]) {
      const covered = partOfReaders((seed) => holds(resultOf(seed, share), "right", 100 * share));
      expect(covered).toBeGreaterThan(0.95 - SHARE_SCATTER);
    }
    // Three looks in the mean of a fair throw of 1 to 5.
    const looks = partOfReaders((seed) => holds(resultOf(seed, 0.5), "looks", 3));
    expect(Math.abs(looks - 0.95)).toBeLessThan(0.03);
  });

  it("fails somebody exactly at the criterion at most 2.5 times in a hundred, a good one never, one who guesses always", () => {
    const fails = (share: number) => partOfReaders((seed) => resultOf(seed, share).verdict === "not met");
    // Three standard deviations of a share of 0.025: 0.015.
    expect(fails(0.8)).toBeLessThan(0.025 + 0.015);
    expect(fails(0.97)).toBe(0);
    expect(fails(1 / 9)).toBeGreaterThan(0.99);
  });

  it("has exact limits: at each of them what was found, or more extreme, has a chance of 2.5 %", () => {
    const answers = Array.from({ length: 12 }, (_, index) => {
      const { fault } = faultyBench(3, index + 1);
      const wrong = fault === "inch" ? "sign" : "inch";
      return { typed: { fault: index < 9 ? fault : wrong, looks: "2" }, seconds: decimal(9) };
    });
    const [right] = findFault.score(3, answers, PROPOSED_PRACTICE_CRITERIA).figures;
    // C. J. Clopper, E. S. Pearson: The use of confidence or fiducial limits (1934), Biometrika 26, 404 (from memory).
    expect(atLeast(9, 12, Number(right?.lower) / 100)).toBeCloseTo(0.025, 6);
    expect(1 - atLeast(10, 12, Number(right?.upper) / 100)).toBeCloseTo(0.025, 6);
  });
});

/** Chance of at least r of n by adding up binomial terms. */
function atLeast(r: number, n: number, p: number): number {
  let sum = 0;
  for (let k = r; k <= n; k += 1) {
    let ways = 1;
    for (let i = 1; i <= k; i += 1) ways = (ways * (n - k + i)) / i;
    sum += ways * p ** k * (1 - p) ** (n - k);
  }
  return sum;
}

describe("an answer", () => {
  it.each([
    [{ fault: "dirt", looks: "1" }, "typed.fault"],
    [{ looks: "1" }, "typed.fault"],
    [{ fault: "sign", looks: "6" }, "typed.looks"],
    [{ fault: "sign" }, "typed.looks"],
  ])("%j is refused at %s", (typed, field) => {
    expect(() => findFault.readAnswer(typed)).toThrow(field);
  });

  it("is reviewed with the truth and why", () => {
    const { fault } = faultyBench(3, 1);
    const right = findFault.review?.(3, 1, { fault, looks: "1" });
    expect(right).toMatchObject({ right: true, given: right?.truth });
    expect(right?.because).not.toBe("");
    const other = fault === "inch" ? "sign" : "inch";
    expect(findFault.review?.(3, 1, { fault: other, looks: "1" })).toMatchObject({ right: false });
  });
});
