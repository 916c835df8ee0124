import { describe, expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import type { CalibrationConditions, CalibrationResult } from "#core/calibration/calibration.ts";
import { sizeOfDivisions } from "#core/measurement/size-of-divisions.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";
import { TEN_SETTINGS_CONDITIONS, tenSettings } from "#core/selftest/cases/factor-golden.ts";
import { READ_WITHOUT_DOUBT } from "#core/selftest/plain-setups.ts";

/*
 * The budget against its own measurement equation, by two ways that share nothing with it: differences of the whole
 * calculation, and propagation of distributions by Monte Carlo (JCGM 101:2008). Invented inputs; the limits of the
 * distributions were computed by another program with 2·10⁷ trials.
 */

const d = decimal;
const LEFT = "5.0 5.1 5.0 5.0 5.2 5.0 5.1 4.9 5.0 5.1".split(" ");
const RIGHT = "85.1 85.0 85.0 85.1 85.2 85.0 85.2 85.0 85.0 85.1".split(" ");

function moved(by: {
  error?: string;
  left?: string;
  right?: string;
  conditions?: Partial<CalibrationConditions>;
}): CalibrationResult {
  return calibrate({
    settings: LEFT.map((left, i) => ({
      reticleLeft: d(left).plus(by.left ?? 0),
      reticleRight: d(RIGHT[i] ?? "0").plus(by.right ?? 0),
      lineLeft: ZERO,
      lineRight: d(200),
    })),
    scale: {
      lines: [
        { nominal: ZERO, error: ZERO },
        { nominal: d(200), error: d("0.12").plus(by.error ?? 0) },
      ],
      expandedUncertainty: d("0.16"),
      coverageFactor: d(2),
    },
    conditions: { ...TEN_SETTINGS_CONDITIONS, ...by.conditions },
    estimator: "origin-regression",
    coverage: "t95",
  });
}

describe("the sensitivities of a factor", () => {
  const STEP = d("1e-9");
  const sensitivity = (key: string) =>
    tenSettings("t95").budget.find((line) => line.key === key)?.sensitivity;
  it.each([
    ["certificate", "certified length", moved({ error: "1e-9" })],
    ["drift", "certified length", moved({ error: "1e-9" })],
    [
      "temperature",
      "temperature",
      moved({ conditions: { temperature: TEN_SETTINGS_CONDITIONS.temperature.plus(STEP) } }),
    ],
    [
      "expansion",
      "expansion",
      moved({ conditions: { expansion: TEN_SETTINGS_CONDITIONS.expansion.plus(STEP) } }),
    ],
    ["reading-left", "left readings (which shorten the interval)", moved({ left: "-1e-9" })],
    ["reading-right", "right readings", moved({ right: "1e-9" })],
  ])("to %s are those found by moving the %s a little", (key, _, after) => {
    const slope = after.factor.minus(tenSettings("t95").factor).div(STEP);
    expect(sensitivity(key)?.div(slope).minus(1).abs().toNumber()).toBeLessThan(1e-9);
  });
});

/** Mulberry32, a small generator with a fixed seed: the same trials on every machine. */
function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

describe("the distribution of a factor and of a size, by Monte Carlo", () => {
  const TRIALS = 200_000;
  const random = randomFrom(20260101);
  const rectangular = (halfWidth: number) => (2 * random() - 1) * halfWidth;
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const student = (degrees: number) => {
    let squares = 0;
    for (let i = 0; i < degrees; i++) squares += normal() ** 2;
    return normal() / Math.sqrt(squares / degrees);
  };
  const angleTerm = (degrees: number) => rectangular((degrees * Math.PI) / 180) ** 2 / 2;
  const ends = () => rectangular(0.05) + rectangular(0.05);

  const factorTrial = () => {
    const length = 200 + 0.12 + 0.08 * normal() + rectangular(0.05);
    const growth = 1 + (8.5e-6 + rectangular(1e-6)) * (2.6 + rectangular(1));
    const train = (1 + rectangular(0.001)) * (1 + rectangular(0.0015));
    const reading = 80.03 + (0.06749485577106 / Math.sqrt(10)) * student(9) + ends();
    return (length * growth * (1 + angleTerm(1)) * train) / reading;
  };
  const sizeTrial = () => {
    const reading = 18.283333333333 + (0.07527726527091 / Math.sqrt(6)) * student(5) + ends();
    return factorTrial() * reading * (1 + angleTerm(3)) + 2 * rectangular(0.12903846153846);
  };
  const summary = (trial: () => number) => {
    const values = Float64Array.from({ length: TRIALS }, trial).sort();
    const mean = values.reduce((sum, x) => sum + x, 0) / TRIALS;
    const low = values[Math.round(0.025 * TRIALS)] ?? Number.NaN;
    const high = values[Math.round(0.975 * TRIALS)] ?? Number.NaN;
    return { mean, low, high };
  };

  it("has the factor's mean, and its limits within 5 % of U", () => {
    const { mean, low, high } = summary(factorTrial);
    const { factor, uncertainty } = tenSettings("t95");
    expect(mean).toBeCloseTo(factor.toNumber(), 4);
    // 2.49463 and 2.50687 from 2·10⁷ trials elsewhere.
    expect(Math.abs(low - 2.49463)).toBeLessThan(5e-5);
    expect(Math.abs(high - 2.50687)).toBeLessThan(5e-5);
    expect((high - low) / 2 / uncertainty.expanded.toNumber()).toBeCloseTo(1, 1);
  });

  it("has the size's mean, and its limits within 5 % of U", () => {
    const { mean, low, high } = summary(sizeTrial);
    const { factor, uncertainty } = tenSettings("t95");
    const size = sizeOfDivisions({
      divisions: "18.3 18.2 18.4 18.3 18.3 18.2".split(" ").map(d),
      factor: {
        factor,
        standardUncertainty: uncertainty.standard,
        degreesOfFreedom: uncertainty.degreesOfFreedom,
      },
      conditions: {
        ...READ_WITHOUT_DOUBT,
        smallestFraction: d("0.1"),
        alignmentHalfAngle: d(3),
        edgeHalfWidth: d("0.12903846153846"),
        edgeDegreesOfFreedom: d(8),
        edgeKind: "same-sense",
      },
      coverage: "t95",
    });
    expect(mean).toBeCloseTo(size.size.toNumber(), 2);
    // 45.3315 and 46.1545 from 2·10⁷ trials elsewhere.
    expect(Math.abs(low - 45.3315)).toBeLessThan(0.004);
    expect(Math.abs(high - 46.1545)).toBeLessThan(0.004);
    expect((high - low) / 2 / size.uncertainty.expanded.toNumber()).toBeCloseTo(1, 1);
  });
});
