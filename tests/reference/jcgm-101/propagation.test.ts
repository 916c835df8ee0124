import { describe, expect, it } from "vitest";
import { GENERATOR_NUMBERS, NUMERICAL_TOLERANCES } from "#core/selftest/cases/jcgm-101.ts";
import {
  arcSineDraw,
  type Draw,
  inexactRectangularDraw,
  normalDraw,
  rectangularDraw,
  studentDraw,
} from "#core/uncertainty/input-draw.ts";
import { validateInterval } from "#core/uncertainty/interval-validation.ts";
import type { DrawnModel, Ends, Simulated } from "#core/uncertainty/monte-carlo.ts";
import { checkCases } from "../../support/check-cases.ts";
import { simulatedAtOnce } from "../../support/simulated-at-once.ts";

checkCases("JCGM 101:2008 7.9.2, numerical tolerance", NUMERICAL_TOLERANCES);
checkCases("xoshiro128**", GENERATOR_NUMBERS);

/*
 * JCGM: Supplement 1 to the GUM – Propagation of distributions using a Monte Carlo method, JCGM 101 (2008). Its figures of 9.2
 * are from memory; what they rest on is computed here beside them. A simulated figure may miss the print by half its last
 * digit and four standard uncertainties of the simulation (1 in 16 000).
 */
const TRIALS = 1_000_000;
const SURE = 4;
const PATIENCE = 60_000;

function sumOf(draws: readonly Draw[]): DrawnModel {
  return { draws, hasDeviation: true, result: (drawn) => drawn.reduce((sum, one) => sum + one, 0) };
}

const run = (model: DrawnModel, probability = 0.95): Simulated =>
  simulatedAtOnce(model, { trials: TRIALS, seed: 101, probability });

function expectEnds(simulated: Simulated, printed: Ends, lastDigit: number): void {
  for (const end of ["low", "high"] as const) {
    const allowed = lastDigit / 2 + SURE * simulated.endUncertainty[end];
    expect(Math.abs(simulated.symmetric[end] - printed[end]), end).toBeLessThanOrEqual(allowed);
  }
}

/** a of a rectangle with this standard deviation. */
const halfWidth = (standard: number): number => standard * Math.sqrt(3);

describe("JCGM 101:2008 9.2, the additive model of four inputs", () => {
  it(
    "9.2.2: four normal inputs of u = 1: u = 2.0, [−3.92, 3.92], validated",
    () => {
      const simulated = run(sumOf(Array.from({ length: 4 }, () => normalDraw(1))));
      expect(Math.abs(simulated.estimate ?? 1)).toBeLessThanOrEqual((SURE * 2) / Math.sqrt(TRIALS));
      // s of a normal sample: σ/√(2M).
      expect(Math.abs((simulated.standard ?? 0) - 2)).toBeLessThanOrEqual((SURE * 2) / Math.sqrt(2 * TRIALS));
      expectEnds(simulated, { low: -3.92, high: 3.92 }, 0.01);
      const { tolerance, outcome } = validateInterval(
        { estimate: 0, standard: 2, expanded: 2 * 1.959964 },
        simulated,
      );
      expect({ tolerance, outcome }).toEqual({ tolerance: 0.05, outcome: "validated" });
    },
    PATIENCE,
  );

  it(
    "9.2.3: four rectangular inputs of u = 1: [−3.88, 3.88], exactly ±2√3·[2 − (3/5)^¼]",
    () => {
      const simulated = run(sumOf(Array.from({ length: 4 }, () => rectangularDraw(halfWidth(1)))));
      const exact = 2 * Math.sqrt(3) * (2 - 0.6 ** 0.25);
      expect(exact.toFixed(2)).toBe("3.88");
      expectEnds(simulated, { low: -exact, high: exact }, 0);
      expectEnds(simulated, { low: -3.88, high: 3.88 }, 0.01);
      const { shortest, symmetric } = simulated;
      expect(shortest.high - shortest.low).toBeLessThanOrEqual(symmetric.high - symmetric.low);
    },
    PATIENCE,
  );

  it(
    "9.2.4: rectangular inputs of u = 1, 1, 1, 10: u = 10.1, [−17.0, 17.0]; the GUM's ±19.9 is not validated",
    () => {
      const simulated = run(sumOf([1, 1, 1, 10].map((u) => rectangularDraw(halfWidth(u)))));
      const standard = Math.sqrt(103);
      expect(simulated.standard?.toFixed(1)).toBe("10.1");
      expectEnds(simulated, { low: -17, high: 17 }, 0.1);
      const gum = { estimate: 0, standard, expanded: 1.959964 * standard };
      expect(gum.expanded.toFixed(1)).toBe("19.9");
      const { tolerance, outcome, words } = validateInterval(gum, simulated);
      expect({ tolerance, outcome }).toEqual({ tolerance: 0.5, outcome: "not-validated" });
      expect(words).toBe(
        "The GUM interval is not validated: the simulated interval is 14 % narrower. U is on the safe side.",
      );
    },
    PATIENCE,
  );
});

/* Inputs of Table 10 and results of Table 11, from memory; u of the GUM, 32 nm, is JCGM 100:2008 H.1. */
describe("JCGM 101:2008 9.5, a gauge block by comparison", () => {
  it(
    "838 nm, u = 36 nm where the GUM has 32 nm, [745, 932] nm at 99 %",
    () => {
      const standardLength = 50_000_623;
      const nominal = 50_000_000;
      const simulated = run(
        {
          draws: [
            studentDraw(25, 18),
            studentDraw(6, 24),
            studentDraw(4, 5),
            studentDraw(7, 8),
            rectangularDraw(2e-6),
            normalDraw(0.2),
            arcSineDraw(0.5),
            inexactRectangularDraw(1e-6, 0.1e-6),
            inexactRectangularDraw(0.05, 0.025),
          ],
          hasDeviation: true,
          result: ([
            l = 0,
            d = 0,
            d1 = 0,
            d2 = 0,
            alpha = 0,
            mean = 0,
            cycle = 0,
            expansion = 0,
            heat = 0,
          ]) => {
            const length = standardLength + l;
            const shift = expansion * (-0.1 + mean + cycle) + (11.5e-6 + alpha) * heat;
            return length + 215 + d + d1 + d2 - length * shift - nominal;
          },
        },
        0.99,
      );
      expect(simulated.estimate?.toFixed(0)).toBe("838");
      expect(simulated.standard?.toFixed(0)).toBe("36");
      expectEnds(simulated, { low: 745, high: 932 }, 1);
    },
    PATIENCE,
  );
});
