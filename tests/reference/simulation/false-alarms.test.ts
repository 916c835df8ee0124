import { expect, it, vi } from "vitest";
import { alarmsOf, PLANS } from "../../bench/false-alarms.ts";
import { EVEN } from "../../support/simulated-calibration.ts";

vi.setConfig({ testTimeout: 120_000 });

const TRIALS = 300;
const CASES = PLANS.flatMap((plan) =>
  [3, 4, 6, 10, 30].flatMap((n) => [0.05, 0.2].map((sd) => ({ plan, name: plan.name, n, sd }))),
);

/** Stated risk 2 %; at most 10 of 300 is what a rate of 2 % gives in 97 of 100 draws (binomial). */
it.each(CASES)(
  "an even scale is seldom called distorted: $name, $n settings, sd $sd div",
  ({ plan, n, sd }) => {
    expect(alarmsOf(plan, n, sd, EVEN, TRIALS).named).toBeLessThanOrEqual(10);
  },
);

it.each(CASES)(
  "1 % is found where the settings can show it: $name, $n settings, sd $sd div",
  ({ plan, n, sd }) => {
    const even = alarmsOf(plan, n, sd, EVEN, 100);
    if (even.showsSlope <= 0.01) {
      expect(alarmsOf(plan, n, sd, { slope: 0.01, bow: 0 }, 100).named).toBeGreaterThanOrEqual(90);
    }
    if (even.showsBow <= 0.01) {
      expect(alarmsOf(plan, n, sd, { slope: 0, bow: 0.01 }, 100).named).toBeGreaterThanOrEqual(90);
    }
  },
);

it("has plans that can show each", () => {
  const can = (key: "showsSlope" | "showsBow") =>
    CASES.some(({ plan, n, sd }) => alarmsOf(plan, n, sd, EVEN, 20)[key] <= 0.01);
  expect(can("showsSlope")).toBe(true);
  expect(can("showsBow")).toBe(true);
});
