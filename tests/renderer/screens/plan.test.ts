import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { calibratedTrains, planOf, sizeOf } from "#renderer/screens/bench/plan/plan.ts";
import { overviewOf, stand, trainsOf } from "./bench-fixture.ts";

/** Invented factors of the first two objectives; the third is not calibrated. */
const FACTORS = [
  { factor: "10.37", standardUncertainty: "0.02" },
  { factor: "2.593", standardUncertainty: "0.004" },
];

function benchOf(names: readonly string[]) {
  return overviewOf(
    names.map((name) => {
      const microscope = stand(name, [1, 4, 10]);
      const trains = trainsOf(microscope, ["ready"]).map((one, index) => ({
        ...one,
        inForce: FACTORS[index] ? ({ result: FACTORS[index] } as never) : null,
      }));
      return { microscope, trains };
    }),
  );
}
const trains = calibratedTrains(benchOf(["Stand A"]));
const [low, high] = trains;

describe("the trains of the card", () => {
  it("are those with a factor in force, named by stand only where there are several", () => {
    expect(trains.map(({ name }) => name)).toEqual(["10×/0.25", "40×/0.25"]);
    expect(calibratedTrains(benchOf(["A", "B"])).map(({ name }) => name)).toEqual([
      "10×/0.25, A",
      "40×/0.25, A",
      "10×/0.25, B",
      "40×/0.25, B",
    ]);
  });
});

describe("an object on each of them", () => {
  const object = { amount: decimal("12"), train: low ?? null, wantedPercent: decimal("2") };

  it("has the size that its divisions have on the train they were read on", () => {
    expect(sizeOf(object).toFixed()).toBe("124.44");
    expect(sizeOf({ ...object, train: null }).toFixed()).toBe("12");
  });

  it("covers as many divisions as the factors say, there and back", () => {
    const there = planOf(object, trains).find(({ id }) => id === high?.id);
    // 12 × 10.37 / 2.593
    expect(there?.divisions.toNumber()).toBeCloseTo(47.990744, 6);
    const back = planOf({ ...object, amount: there?.divisions ?? decimal("0"), train: high ?? null }, trains);
    expect(back.find(({ id }) => id === low?.id)?.divisions.toNumber()).toBeCloseTo(12, 12);
  });

  it("says the U that one reading has there, worked by hand, and puts the better objective first", () => {
    const plan = planOf(object, trains);
    expect(plan.map(({ id }) => id)).toEqual([high?.id, low?.id]);
    const n = 47.990744;
    // k = 2 in percent: factor 0.004/2.593, tenths at both ends √(0.1²/6), scatter 0.2.
    const byHand = Math.hypot((200 * 0.004) / 2.593, (200 * Math.sqrt(0.01 / 6)) / n, (200 * 0.2) / n);
    expect(plan[0]?.expectedPercent.toNumber()).toBeCloseTo(byHand, 6);
    expect(plan[0]?.repeats).toBe(1);
    // At 10× the scatter alone is 3.3 %: (2² − 0.386² − 0.680²) leaves n = ⌈11.11 / 3.389⌉.
    expect(plan[1]?.repeats).toBe(4);
  });
});
