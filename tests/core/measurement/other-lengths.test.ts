import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type FocusDepthInput, focusDepth } from "#core/measurement/focus-depth.ts";
import { type StageDistanceInput, stageDistance } from "#core/measurement/stage-vernier.ts";
import { wrongObjectiveHint } from "#core/measurement/wrong-objective.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";

const d = decimal;

describe("a distance by the stage verniers", () => {
  const between = (own: Partial<StageDistanceInput> = {}) =>
    stageDistance({
      from: { x: d("10.0"), y: d("20.0") },
      to: { x: d("13.0"), y: d("24.0") },
      vernierStep: d("0.1"),
      scaleHalfWidth: ZERO,
      setting: ZERO,
      coverage: "k2",
      ...own,
    });

  it("is the hypotenuse in µm", () => {
    expect(between().distanceUm.toString()).toBe("5000");
  });

  it("is as sure in every direction: √2 of one vernier reading", () => {
    const expected = (0.1 / Math.sqrt(12)) * Math.SQRT2 * 1000;
    expect(between().uncertainty.standard.toNumber()).toBeCloseTo(expected, 9);
    expect(between({ to: { x: d("15.0"), y: d("20.0") } }).uncertainty.standard.toNumber()).toBeCloseTo(
      expected,
      9,
    );
  });

  it("is the same there and back", () => {
    const coordinate = fc.integer({ min: 0, max: 900 }).map((n) => d(n).div(10));
    fc.assert(
      fc.property(coordinate, coordinate, coordinate, coordinate, (x1, y1, x2, y2) => {
        const from = { x: x1, y: y1 };
        const to = { x: x2, y: y2 };
        expect(between({ from, to }).distanceUm.equals(between({ from: to, to: from }).distanceUm)).toBe(
          true,
        );
      }),
    );
  });

  it("adds the stage's own scale in proportion", () => {
    const u = between({ vernierStep: ZERO, scaleHalfWidth: d("0.001") }).uncertainty.standard;
    expect(u.toNumber()).toBeCloseTo(5 / Math.sqrt(3), 9);
  });

  it("names the reading that is wrong", () => {
    expect(() => between({ to: { x: d("NaN"), y: ZERO } })).toThrow(/^to\.x: /);
    expect(() => between({ vernierStep: d(-1) })).toThrow(/^vernierStep: /);
    expect(() => between({ setting: d("Infinity") })).toThrow(/^setting: /);
  });
});

describe("a depth by fine focus", () => {
  const of = (own: Partial<FocusDepthInput> = {}) =>
    focusDepth({
      upper: d("102"),
      lower: d("98"),
      drumStep: d(1),
      focusing: d("0.5"),
      mountIndex: d("1.515"),
      mountIndexHalfWidth: d("0.005"),
      immersionIndex: d(1),
      immersionIndexHalfWidth: ZERO,
      coverage: "k2",
      ...own,
    });

  it("does not depend on which way the drum counts", () => {
    expect(of().depth.toString()).toBe("6.06");
    expect(of({ upper: d(98), lower: d(102) }).depth.toString()).toBe("6.06");
  });

  it("is the drum's own travel when mount and immersion are alike", () => {
    expect(of({ immersionIndex: d("1.515") }).depth.toString()).toBe("4");
  });

  it("carries drum, focusing and index", () => {
    const drum = (1 / Math.sqrt(12)) * 1.515;
    const focus = 0.5 * 1.515;
    const index = (0.005 / Math.sqrt(3)) * 4;
    expect(of().uncertainty.standard.toNumber()).toBeCloseTo(
      Math.sqrt(2 * drum ** 2 + 2 * focus ** 2 + index ** 2),
      10,
    );
  });

  it("refuses one surface twice and what is no refractive index", () => {
    expect(() => of({ lower: d(102) })).toThrow(/^lower: /);
    expect(() => of({ mountIndex: d("0.9") })).toThrow(/^mountIndex: /);
    expect(() => of({ immersionIndex: d("NaN") })).toThrow(/^immersionIndex: /);
  });
});

describe("the hint of a wrong objective", () => {
  const turret = [
    { name: "10×", factor: d("10.4") },
    { name: "40×", factor: d("2.6") },
  ];

  it("comes when another factor of the turret gives the usual size", () => {
    const hint = wrongObjectiveHint(d("353.6"), d("88"), d("10.4"), turret);
    expect(hint?.name).toBe("40×");
    expect(hint?.sizeThere.toString()).toBe("88.4");
  });

  it("stays away from ordinary sizes and from ones nothing explains", () => {
    expect(wrongObjectiveHint(d("100"), d("88"), d("10.4"), turret)).toBeNull();
    expect(wrongObjectiveHint(d("200"), d("88"), d("10.4"), turret)).toBeNull();
  });
});
