import { describe, expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import {
  DEFAULT_REPEATABILITY,
  type PooledRepeatability,
  pooledRepeatability,
  repeatabilityOf,
} from "#core/calibration/repeatability.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { NOTHING_DOUBTED } from "#core/selftest/plain-setups.ts";

const d = decimal;
const HABIT: PooledRepeatability = {
  deviation: d("0.1"),
  degreesOfFreedom: d(10),
  origin: "person",
  calibrations: 4,
};

describe("the scatter of one setting", () => {
  it("is pooled from earlier calibrations by their degrees of freedom", () => {
    const pooled = pooledRepeatability(
      [
        { deviation: d("0.1"), settings: 5 },
        { deviation: d("0.2"), settings: 3 },
        { deviation: d("9"), settings: 1 },
      ],
      "person",
    );
    // (4·0.01 + 2·0.04)/6
    expect(pooled?.deviation.pow(2).toFixed(20)).toBe("0.02000000000000000000");
    expect(pooled?.degreesOfFreedom.toString()).toBe("6");
    expect(pooled?.calibrations).toBe(2);
  });

  it("is not pooled from too little", () => {
    expect(pooledRepeatability([{ deviation: d("0.1"), settings: 5 }], "bench")).toBeNull();
  });

  it("of one setting is the pooled one, and never zero with infinite freedom", () => {
    expect(repeatabilityOf(1, d(0), DEFAULT_REPEATABILITY)).toMatchObject({ from: "pooled" });
    expect(repeatabilityOf(1, d(0), DEFAULT_REPEATABILITY).deviation.toString()).toBe("0.2");
  });

  it("of a few settings is both together, of five their own", () => {
    const both = repeatabilityOf(3, d("0.2"), HABIT);
    // (2·0.04 + 10·0.01)/12
    expect(both.deviation.pow(2).toFixed(20)).toBe("0.01500000000000000000");
    expect(both.degreesOfFreedom.toString()).toBe("12");
    expect(repeatabilityOf(5, d("0.2"), HABIT)).toMatchObject({ from: "settings" });
  });

  it("of settings that scatter more than the habit explains is their own", () => {
    // F(0.95; 2, 10) = 4.10, so s up to 0.2025 is like the habit; table of F, any handbook of statistics.
    expect(repeatabilityOf(3, d("0.202"), HABIT).from).toBe("both");
    expect(repeatabilityOf(3, d("0.203"), HABIT).from).toBe("settings");
  });
});

describe("the part of the certificate in a mean of ratios", () => {
  const result = (expanded: string, errors: readonly string[]) =>
    calibrate({
      settings: [
        [0, 10, 100],
        [0, 20, 200],
        [0, 15, 150],
      ].map(([from = 0, div = 0, um = 0]) => ({
        reticleLeft: d(from),
        reticleRight: d(div),
        lineLeft: d(0),
        lineRight: d(um),
      })),
      scale: {
        lines: [0, 100, 200].map((nominal, i) => ({ nominal: d(nominal), error: d(errors[i] ?? "0") })),
        expandedUncertainty: d(expanded),
        coverageFactor: d(2),
      },
      conditions: NOTHING_DOUBTED,
      estimator: "mean-of-ratios",
      coverage: "k2",
    });
  const line = (of: ReturnType<typeof result>, key: string) =>
    of.budget
      .find((one) => one.key === key)
      ?.contribution.div(of.factor)
      .toNumber();

  it("is the mean of u(L)/L over the settings, not that of the longest span", () => {
    const u = 0.1;
    const expected = (u / 100 + u / 200 + u / 150) / 3;
    expect(line(result("0.2", ["0", "0", "0"]), "certificate")).toBeCloseTo(expected, 14);
  });

  it("charges an interpolated end in the setting that uses it, longest or not", () => {
    // Half of the largest change of error, 0.3 µm, as a rectangle; one of three settings uses it.
    const expected = 0.15 / Math.sqrt(3) / 150.15 / 3;
    expect(line(result("0", ["0", "0.3", "0"]), "interpolation")).toBeCloseTo(expected, 14);
  });
});
