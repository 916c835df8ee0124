import { describe, expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import type { CalibrationResult, Setting } from "#core/calibration/calibration.ts";
import { linearFit } from "#core/calibration/least-squares.ts";
import { type Linearity, linearityOf } from "#core/calibration/linearity.ts";
import {
  differenceUncertainty,
  sharedLineCorrelation,
  sharedLineMatrix,
} from "#core/calibration/shared-lines.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";
import { NOTHING_DOUBTED } from "#core/selftest/plain-setups.ts";
import { correlatedUncertainty } from "#core/uncertainty/combine.ts";

const d = decimal;

/** Small reading errors in a fixed order, div. */
const WOBBLE = [0.02, -0.03, 0.01, 0.03, -0.02, -0.01, 0.02, -0.02, 0.01, -0.01];

/**
 * Settings of a 100-division reticle on lines 100 µm apart, each interval twice; `local` is the local factor at a
 * reticle position, µm/div. The right reading is found by stepping along the scale.
 */
function settingsOn(local: (division: number) => number, offset = 0): Setting[] {
  const intervals = [
    [0, 1000],
    [0, 500],
    [500, 1000],
    [200, 800],
    [0, 300],
    [700, 1000],
  ] as const;
  const readingAt = (um: number): number => {
    let covered = 0;
    let division = 0;
    while (covered < um) {
      covered += local(division + 0.0005) * 0.001;
      division += 0.001;
    }
    return division;
  };
  return [...intervals, ...intervals].map(([from, to], i) => ({
    lineLeft: d(from),
    lineRight: d(to),
    reticleLeft: d(readingAt(from).toFixed(3)),
    reticleRight: d((readingAt(to) + offset + (WOBBLE[i % WOBBLE.length] ?? 0)).toFixed(3)),
  }));
}

function studied(settings: readonly Setting[]): { result: CalibrationResult; linearity: Linearity } {
  const result = calibrate({
    settings,
    scale: {
      lines: [0, 200, 300, 500, 700, 800, 1000].map((line) => ({ nominal: d(line), error: ZERO })),
      expandedUncertainty: d("0.2"),
      coverageFactor: d(2),
    },
    conditions: { ...NOTHING_DOUBTED, smallestFraction: d("0.1") },
    estimator: "origin-regression",
    coverage: "t95",
  });
  return { result, linearity: linearityOf(settings, result) };
}

describe("linearity", () => {
  it("of an even scale finds nothing, and the halves agree", () => {
    const { linearity } = studied(settingsOn(() => 10.1));
    expect(linearity.findings).toEqual([]);
    expect(linearity.field.pattern).toBe("even");
    expect(linearity.halves?.relativeDifference.abs().toNumber()).toBeLessThan(0.002);
    expect(linearity.intercept?.p).toBeGreaterThan(0.05);
    expect(linearity.residualsUm).toHaveLength(12);
  });

  it("names a scale whose both ends are compressed a bow", () => {
    const { linearity } = studied(settingsOn((x) => 10.1 * (1 - 0.02 * ((x - 50) / 50) ** 2)));
    expect(linearity.field.pattern).toBe("bow");
    expect(linearity.field.atLeft.toNumber()).toBeCloseTo(-0.02, 2);
    expect(linearity.field.atRight.toNumber()).toBeCloseTo(-0.02, 2);
    expect(linearity.findings.join()).toMatch(
      /Field distortion: the scale bows; .* by −\d\.\d\d % \(left\) and −\d/,
    );
  });

  it.each([
    ["right", 0.01, "stretched-right"],
    ["left", -0.01, "stretched-left"],
  ])("names a stretched %s end, and the halves show it", (side, slope, pattern) => {
    const { linearity } = studied(settingsOn((x) => 10.1 * (1 + slope * ((x - 50) / 50))));
    expect(linearity.field.pattern).toBe(pattern);
    expect(linearity.halves?.relativeDifference.toNumber()).toBeCloseTo(slope, 2);
    expect(linearity.findings.join()).toContain(`the ${side} end is stretched`);
  });

  it("finds a constant offset, as from reading different edges of the lines", () => {
    const { linearity } = studied(settingsOn(() => 10.1, 0.4));
    expect(linearity.intercept?.p).toBeLessThan(0.001);
    expect(linearity.intercept?.intercept.toNumber()).toBeCloseTo(0.4, 1);
    expect(studied(settingsOn(() => 10.1, -0.4)).linearity.findings.join()).toMatch(
      /each is off by −0\.\d\d div/,
    );
    expect(linearity.findings.join()).toMatch(/each is off by 0\.[34]\d div/);
  });

  it("says nothing where the settings cannot tell", () => {
    const same = settingsOn(() => 10.1).slice(0, 1);
    const { linearity } = studied([...same, ...same, ...same]);
    expect(linearity.intercept).toBeNull();
    expect(linearity.field.pattern).toBeNull();
    expect(linearity.halves).toBeNull();
    expect(linearity.findings).toEqual([]);
  });

  it("takes a right half nobody measured as the whole less the left", () => {
    const all = settingsOn((x) => 10.1 * (1 + 0.01 * ((x - 50) / 50)));
    const fromZero = all.filter((one) => one.lineLeft.isZero());
    const { linearity } = studied(fromZero);
    expect(linearity.halves?.relativeDifference.toNumber()).toBeCloseTo(0.01, 2);
  });

  it("knows the halves less well than the whole: they share the middle line with opposite signs", () => {
    const { linearity } = studied(settingsOn(() => 10.1));
    const half = d("0.1").div(500);
    const lines = half.pow(2).times(3).sqrt();
    expect(linearity.halves?.standardUncertainty.greaterThan(lines)).toBe(true);
  });
});

describe("intervals that share a line", () => {
  const ends = (from: number, to: number) => ({ from: d(from), to: d(to) });
  it.each([
    ["are the same", ends(0, 100), ends(0, 100), "1"],
    ["start on one line", ends(0, 100), ends(0, 50), "0.5"],
    ["end on one line", ends(0, 100), ends(50, 100), "0.5"],
    ["follow each other", ends(0, 50), ends(50, 100), "-0.5"],
    ["have no line in common", ends(0, 50), ends(60, 100), "0"],
  ])("that %s have the correlation of their lines", (_, first, second, r) => {
    expect(sharedLineCorrelation(first, second).toString()).toBe(r);
    expect(sharedLineCorrelation(second, first).toString()).toBe(r);
  });

  /** u(f)/f from certified lines with independent errors, by the full covariance of the spans. */
  const byCovariance = (lengths: readonly number[], u: string) => {
    const squares = lengths.reduce((sum, length) => sum + length * length, 0);
    return correlatedUncertainty(
      lengths.map((length) => d(length).div(squares)),
      lengths.map(() => d(u)),
      sharedLineMatrix(lengths.map((length) => ends(0, length))),
    );
  };

  it("give a factor from one repeated span exactly u/L, as the budget has it", () => {
    expect(byCovariance([1000, 1000, 1000], "0.15").toFixed(20)).toBe("0.00015000000000000000");
  });

  it("give a factor from nested spans within a tenth of u over the longest, as the budget has it", () => {
    const spans = [20, 40, 60, 80, 100, 120, 140, 160, 180, 200];
    const ratio = byCovariance(spans, "0.08").div(d("0.08").div(200)).toNumber();
    expect(ratio).toBeGreaterThan(1);
    expect(ratio).toBeLessThan(1.1);
  });

  it("differ with the uncertainty the correlation leaves", () => {
    expect(differenceUncertainty(d(3), d(3), d(1)).toString()).toBe("0");
    expect(differenceUncertainty(d(3), d(4), d(0)).toString()).toBe("5");
    expect(differenceUncertainty(d(3), d(3), d("-0.5")).pow(2).toFixed(20)).toBe("27.00000000000000000000");
  });
});

describe("least squares for a few parameters", () => {
  it("finds a parabola exactly", () => {
    const xs = [-2, -1, 0, 1, 3].map(d);
    const fit = linearFit(
      xs.map((x) => [d(1), x, x.pow(2)]),
      xs.map((x) => x.pow(2).times(3).minus(x.times(2)).plus(7)),
    );
    expect(fit?.coefficients.map((c) => c.toFixed(20))).toEqual([
      "7.00000000000000000000",
      "-2.00000000000000000000",
      "3.00000000000000000000",
    ]);
    expect(fit?.degrees).toBe(2);
  });

  it("gives nothing when parameters cannot be told apart or none is to spare", () => {
    expect(
      linearFit(
        [
          [d(1), d(2)],
          [d(2), d(4)],
          [d(3), d(6)],
        ],
        [d(1), d(2), d(3)],
      ),
    ).toBeNull();
    expect(
      linearFit(
        [
          [d(1), d(2)],
          [d(2), d(5)],
        ],
        [d(1), d(2)],
      ),
    ).toBeNull();
    expect(() => linearFit([[d(1)]], [d(1), d(2)])).toThrow(/^design: /);
  });
});
