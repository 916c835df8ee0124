import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import type { CalibrationConditions, CalibrationInput, Setting } from "#core/calibration/calibration.ts";
import { CONDITION_KEYS } from "#core/calibration/conditions.ts";
import { defaultTypedConditions } from "#core/calibration/default-conditions.ts";
import { originFit } from "#core/calibration/factor-estimate.ts";
import { DEFAULT_REPEATABILITY } from "#core/calibration/repeatability.ts";
import { readConditions } from "#core/calibration/typed-calibration.ts";
import { type Decimal, decimal, ZERO } from "#core/quantity/decimal.ts";
import { NOTHING_DOUBTED } from "#core/selftest/plain-setups.ts";

const d = decimal;

const setting = (
  reticleLeft: string,
  reticleRight: string,
  lineLeft: string,
  lineRight: string,
): Setting => ({
  reticleLeft: d(reticleLeft),
  reticleRight: d(reticleRight),
  lineLeft: d(lineLeft),
  lineRight: d(lineRight),
});

const DEFAULTS = readConditions(defaultTypedConditions());

function input(own: Partial<CalibrationInput> = {}): CalibrationInput {
  return {
    settings: [
      setting("0", "96.4", "0", "1000"),
      setting("0.1", "96.4", "0", "1000"),
      setting("0", "96.5", "0", "1000"),
    ],
    scale: {
      lines: [
        { nominal: ZERO, error: ZERO },
        { nominal: d(500), error: ZERO },
        { nominal: d(1000), error: ZERO },
      ],
      expandedUncertainty: d("0.3"),
      coverageFactor: d(2),
    },
    conditions: DEFAULTS,
    estimator: "origin-regression",
    coverage: "k2",
    ...own,
  };
}

const contribution = (of: CalibrationInput, key: string): Decimal =>
  calibrate(of).budget.find((line) => line.key === key)?.contribution ?? d("NaN");

describe("a factor from settings", () => {
  it("of 96.4 divisions on 1 mm is 10.37344… with the defaults a newcomer leaves alone", () => {
    const result = calibrate(input({ settings: [setting("0", "96.4", "0", "1000")] }));
    expect(result.factor.toFixed(12)).toBe("10.373443983402");
    expect(result.relativeDeviation).toBeNull();
    expect(result.residualDeviation.isZero()).toBe(true);
    const repeatability = result.budget.find((line) => line.key === "repeatability");
    expect(repeatability?.name).toBe("Repeatability of one setting (s = 0.2 div, ν = 10, assumed: a choice)");
    expect(repeatability?.standardUncertainty.toString()).toBe("0.2");
    expect(repeatability?.degreesOfFreedom?.toString()).toBe("10");
  });

  it("of equal spans is L over the mean reading, by either zero", () => {
    const result = calibrate(input({ conditions: NOTHING_DOUBTED }));
    const mean = d("96.4").plus("96.3").plus("96.5").div(3);
    expect(result.factor.toFixed(25)).toBe(d(1000).div(mean).toFixed(25));
    expect(result.factor.toFixed(25)).toBe(result.ratioOfSums.toFixed(25));
  });

  it("lists every line of the budget, zeros too, and shares that add up to 1", () => {
    const result = calibrate(input());
    expect(result.budget.map((line) => line.key)).toEqual([
      "certificate",
      "interpolation",
      "drift",
      "expansion",
      "temperature",
      "alignment",
      "field",
      "train",
      "repeatability",
      "reading-left",
      "reading-right",
    ]);
    expect(result.budget.reduce((sum, line) => sum.plus(line.share), ZERO).toFixed(20)).toBe(
      "1.00000000000000000000",
    );
    const variance = result.commonUncertainty.pow(2).plus(result.occasionUncertainty.pow(2));
    expect(variance.toFixed(20)).toBe(result.uncertainty.standard.pow(2).toFixed(20));
  });

  it("averages scatter down with more settings, but neither the certificate nor the reading at the ends", () => {
    const once = input();
    const often = input({ settings: Array.from({ length: 16 }, () => once.settings).flat() });
    for (const key of ["certificate", "reading-left", "reading-right", "field", "train"]) {
      expect(contribution(often, key).toFixed(15), key).toBe(contribution(once, key).toFixed(15));
    }
    expect(contribution(often, "repeatability").toNumber()).toBeLessThan(
      contribution(once, "repeatability").toNumber() / 3.9,
    );
  });

  it("takes the relative certificate uncertainty of the longest span, not of short ones", () => {
    const mixed = input({ settings: [setting("0", "96.4", "0", "1000"), setting("0", "49.5", "0", "500")] });
    const result = calibrate(mixed);
    expect(contribution(mixed, "certificate").div(result.factor).toFixed(12)).toBe("0.000150000000");
  });

  it("rises with a warm micrometer and counts from the certificate's own temperature", () => {
    const warm = { ...DEFAULTS, temperature: d(25) };
    const expected = d("9.1e-6").times(5).plus(1);
    const ratio = calibrate(input({ conditions: warm })).factor.div(calibrate(input()).factor);
    expect(ratio.toFixed(20)).toBe(expected.toFixed(20));
    const scale = { ...input().scale, referenceTemperature: d(25) };
    expect(calibrate(input({ conditions: warm, scale })).factor.toFixed(20)).toBe(
      calibrate(input()).factor.toFixed(20),
    );
  });

  it("by the mean of ratios keeps the regression beside it, and the other way round", () => {
    const ratios = calibrate(input({ estimator: "mean-of-ratios" }));
    const line = calibrate(input());
    expect(ratios.factor.equals(ratios.meanOfRatios)).toBe(true);
    expect(ratios.originRegression.equals(line.factor)).toBe(true);
    expect(line.meanOfRatios.equals(ratios.factor)).toBe(true);
  });

  it("fits a line through the origin to the certified digits of NIST StRD NoInt1", () => {
    const pairs = Array.from({ length: 11 }, (_, i) => ({ length: d(60 + i), divisions: d(130 + i) }));
    const fit = originFit(pairs);
    expect(fit.slope.toPrecision(15)).toBe("2.07438016528926");
    expect(fit.slopeDeviation.toPrecision(15)).toBe("0.0165289256198347");
    expect(fit.residualDeviation.toPrecision(15)).toBe("3.56753034006338");
  });
});

describe("bad input to a calibration", () => {
  const withSetting = (bad: Setting) => input({ settings: [setting("0", "96.4", "0", "1000"), bad] });
  it.each<[string, CalibrationInput, RegExp]>([
    ["no setting", input({ settings: [] }), /^settings: /],
    [
      "a span of no divisions",
      withSetting(setting("5", "5", "0", "1000")),
      /^settings\.1\.reticleRight: .*span of zero/,
    ],
    [
      "readings the wrong way round",
      withSetting(setting("96.4", "0", "0", "1000")),
      /^settings\.1\.reticleRight: /,
    ],
    [
      "the same line twice",
      withSetting(setting("0", "96.4", "500", "500")),
      /^settings\.1\.lineRight: .*span of zero/,
    ],
    [
      "lines the wrong way round",
      withSetting(setting("0", "96.4", "1000", "0")),
      /^settings\.1\.lineRight: /,
    ],
    [
      "a line beyond the table",
      withSetting(setting("0", "96.4", "0", "1010")),
      /^settings\.1\.lineRight: .*outside/,
    ],
    [
      "a line before the table",
      withSetting(setting("0", "96.4", "-10", "1000")),
      /^settings\.1\.lineLeft: .*outside/,
    ],
    [
      "a reading that is no number",
      withSetting(setting("NaN", "96.4", "0", "1000")),
      /^settings\.1\.reticleLeft: /,
    ],
    [
      "an infinite reading",
      withSetting(setting("0", "Infinity", "0", "1000")),
      /^settings\.1\.reticleRight: /,
    ],
    [
      "a reading of 10,000 digits",
      withSetting(setting("0", "9".repeat(10_000), "0", "1000")),
      /^settings\.1\.reticleRight: /,
    ],
    [
      "k = 0 on the certificate",
      input({ scale: { ...input().scale, coverageFactor: ZERO } }),
      /^scale\.coverageFactor: /,
    ],
    [
      "U below zero",
      input({ scale: { ...input().scale, expandedUncertainty: d(-1) } }),
      /^scale\.expandedUncertainty: /,
    ],
    ["an empty table", input({ scale: { ...input().scale, lines: [] } }), /^lines: /],
  ])("with %s is refused at its field", (_, bad, field) => {
    expect(() => calibrate(bad)).toThrow(field);
  });

  it("is refused at each condition, for what is no number and for what cannot be", () => {
    for (const key of CONDITION_KEYS) {
      for (const bad of ["NaN", "Infinity", "-Infinity", "1e6"]) {
        const conditions = { ...DEFAULTS, [key]: d(bad) };
        expect(() => calibrate(input({ conditions })), `${key} ${bad}`).toThrow(
          new RegExp(`^conditions\\.${key}: `),
        );
      }
    }
  });
});

describe("U of a factor", () => {
  /** Inputs that are widths of doubt: each only adds. Temperature and expansion themselves are not doubts. */
  const WIDTHS = {
    temperatureHalfWidth: "0.02",
    expansionHalfWidth: "1e-6",
    micrometerDriftHalfWidth: "0.01",
    alignmentHalfAngle: "0.01",
    fieldDistortionHalfWidth: "0.0001",
    trainHalfWidth: "0.0001",
    smallestFraction: "0.005",
  } as const satisfies Partial<Record<keyof CalibrationConditions, string>>;
  const widthKeys = Object.keys(WIDTHS) as (keyof typeof WIDTHS)[];

  const settings = fc
    .array(fc.tuple(fc.integer({ min: 0, max: 50 }), fc.integer({ min: 400, max: 990 })), {
      minLength: 1,
      maxLength: 6,
    })
    .map((list) => list.map(([left, right]) => setting(`${left / 10}`, `${right / 10}`, "0", "1000")));
  const width = fc.integer({ min: 0, max: 500 });

  it("never narrows when an input becomes less sure, with k = 2", () => {
    fc.assert(
      fc.property(settings, fc.constantFrom(...widthKeys), width, width, (list, key, first, more) => {
        const u = (value: number) =>
          calibrate(
            input({ settings: list, conditions: { ...DEFAULTS, [key]: d(WIDTHS[key]).times(value) } }),
          ).uncertainty.expanded;
        expect(u(first + more).greaterThanOrEqualTo(u(first))).toBe(true);
      }),
    );
  });

  it("never narrows when the certificate is less sure", () => {
    fc.assert(
      fc.property(settings, width, width, (list, first, more) => {
        const u = (value: number) =>
          calibrate(
            input({ settings: list, scale: { ...input().scale, expandedUncertainty: d(value).div(500) } }),
          ).uncertainty.expanded;
        expect(u(first + more).greaterThanOrEqualTo(u(first))).toBe(true);
      }),
    );
  });

  it("stays the same relative to the factor when readings and their fraction are scaled together", () => {
    fc.assert(
      fc.property(settings, fc.integer({ min: 2, max: 100 }), (list, times) => {
        const relative = (by: number): string => {
          const scaled = list.map((one) => ({
            ...one,
            reticleLeft: one.reticleLeft.times(by),
            reticleRight: one.reticleRight.times(by),
          }));
          const conditions = { ...DEFAULTS, smallestFraction: d("0.1").times(by) };
          const pooled = { ...DEFAULT_REPEATABILITY, deviation: d("0.2").times(by) };
          const result = calibrate(input({ settings: scaled, conditions, pooled }));
          return result.uncertainty.expanded.div(result.factor).toPrecision(20);
        };
        expect(relative(times)).toBe(relative(1));
      }),
    );
  });

  it("stays the same relative to the factor when the micrometer and what is certified are scaled together", () => {
    fc.assert(
      fc.property(settings, fc.integer({ min: 2, max: 100 }), (list, times) => {
        const relative = (by: number): string => {
          const result = calibrate(
            input({
              settings: list.map((one) => ({ ...one, lineRight: one.lineRight.times(by) })),
              scale: {
                lines: [
                  { nominal: ZERO, error: ZERO },
                  { nominal: d(1000).times(by), error: ZERO },
                ],
                expandedUncertainty: d("0.3").times(by),
                coverageFactor: d(2),
              },
              conditions: { ...DEFAULTS, micrometerDriftHalfWidth: d("0.05").times(by) },
            }),
          );
          return result.uncertainty.expanded.div(result.factor).toPrecision(20);
        };
        expect(relative(times)).toBe(relative(1));
      }),
    );
  });
});
