import { describe, expect, it } from "vitest";
import { InputError } from "#core/quantity/input-error.ts";
import { numericalTolerance, validateInterval } from "#core/uncertainty/interval-validation.ts";
import type { Simulated } from "#core/uncertainty/monte-carlo.ts";

/** y = 10, u = 0.32, U = 0.64: δ = 0.005 (JCGM 101:2008 7.9.2). */
const GUM = { estimate: 10, standard: 0.32, expanded: 0.64 };

function simulated(low: number, high: number, doubt = 0.0005): Simulated {
  return {
    trials: 1_000_000,
    estimate: 10,
    standard: 0.32,
    symmetric: { low, high },
    shortest: { low, high },
    endUncertainty: { low: doubt, high: doubt },
  };
}

describe("the GUM interval held against the simulated one", () => {
  it.each([
    [9.36, 10.64, "validated", "The GUM interval is validated: both its ends agree within δ."],
    [9.363, 10.637, "validated", "The GUM interval is validated: both its ends agree within δ."],
    [
      9.3555,
      10.6445,
      "unclear",
      "Not decided: an end lies so near to δ that this many trials cannot tell whether it agrees.",
    ],
    [
      9.3,
      10.7,
      "not-validated",
      "The GUM interval is not validated: the simulated interval is 9.4 % wider. U states too little.",
    ],
    [
      9.5,
      10.5,
      "not-validated",
      "The GUM interval is not validated: the simulated interval is 22 % narrower. U is on the safe side.",
    ],
    [
      9.38,
      10.66,
      "not-validated",
      "The GUM interval is not validated: the simulated interval has the same width and lies elsewhere.",
    ],
    // One end alone is enough.
    [
      9.36,
      10.66,
      "not-validated",
      "The GUM interval is not validated: the simulated interval is 1.6 % wider. U states too little.",
    ],
  ])("%d to %d: %s", (low, high, outcome, words) => {
    expect(validateInterval(GUM, simulated(low, high))).toMatchObject({ tolerance: 0.005, outcome, words });
  });

  it("is not decided where the trials are too few", () => {
    expect(validateInterval(GUM, simulated(9.36, 10.64, 0.004)).outcome).toBe("unclear");
  });

  it("rounds u to its digits before it takes the place: 0.0996 is 0.10", () => {
    expect(numericalTolerance(0.0996)).toBe(0.005);
    expect(numericalTolerance(0.0994)).toBe(0.0005);
    expect(numericalTolerance(0.0996, 1)).toBe(0.05);
    expect(() => numericalTolerance(0)).toThrow(InputError);
  });
});
