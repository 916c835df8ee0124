import { describe, expect, it } from "vitest";
import {
  circleAreaOf,
  cylinderVolume,
  type DerivedPart,
  ellipseAreaOf,
  ellipsoidVolume,
  powerProduct,
  rectangleArea,
  sizeDifference,
  sizeRatio,
  sphereVolume,
  spheroidVolume,
  weightedSum,
} from "#core/measurement/derived-quantity.ts";
import { sizeOfDivisions } from "#core/measurement/size-of-divisions.ts";
import { decimal, ONE, ZERO } from "#core/quantity/decimal.ts";
import { READ_WITHOUT_DOUBT } from "#core/selftest/plain-setups.ts";

const d = decimal;

function part(um: string, own: { reading?: string; edge?: string; calibration?: string } = {}): DerivedPart {
  return {
    result: sizeOfDivisions({
      divisions: [d(um)],
      factor: { factor: ONE, standardUncertainty: d("0.01"), degreesOfFreedom: d(10) },
      conditions: {
        ...READ_WITHOUT_DOUBT,
        repeatability: d(own.reading ?? "0"),
        edgeHalfWidth: d(own.edge ?? "0"),
        edgeKind: "same-sense",
      },
      coverage: "k2",
    }),
    calibrationId: own.calibration ?? "one",
  };
}

const relative = (of: { value: typeof ONE; uncertainty: { standard: typeof ONE } }): number =>
  of.uncertainty.standard.div(of.value).toNumber();

describe("quantities from several sizes by one factor", () => {
  it("are exactly 1 where both sizes are equal, whatever the size", () => {
    // Times its reciprocal, this one gives 0.99…9 in decimals of 34 digits, and another class of shape.
    const sizes = ["25.41299797703703680258732250611216", "3", "7", "23.0", "0.000123456789"];
    for (const size of sizes) expect(sizeRatio(part(size), part(size), "k2").value.toString()).toBe("1");
  });

  it("have no uncertainty from the factor in a ratio, twice in an area, three times in a volume", () => {
    expect(relative(sizeRatio(part("20"), part("10"), "k2"))).toBe(0);
    expect(relative(rectangleArea(part("20"), part("10"), "k2"))).toBeCloseTo(0.02, 12);
    expect(relative(ellipseAreaOf(part("20"), part("10"), "k2"))).toBeCloseTo(0.02, 12);
    expect(relative(circleAreaOf(part("20"), "k2"))).toBeCloseTo(0.02, 12);
    expect(relative(sphereVolume(part("20"), "k2"))).toBeCloseTo(0.03, 12);
    expect(relative(spheroidVolume(part("20"), part("30"), "k2"))).toBeCloseTo(0.03, 12);
  });

  it("by two factors combine them as independent", () => {
    const other = part("10", { calibration: "two" });
    expect(relative(sizeRatio(part("20"), other, "k2"))).toBeCloseTo(0.01 * Math.SQRT2, 12);
    expect(relative(rectangleArea(part("20"), other, "k2"))).toBeCloseTo(0.01 * Math.SQRT2, 12);
  });

  it("take edges biased alike out of a difference, and keep them in a ratio", () => {
    const long = part("20", { edge: "0.3" });
    const short = part("12", { edge: "0.3" });
    expect(sizeDifference(long, short, "k2").uncertainty.standard.toNumber()).toBeCloseTo(0.08, 12);
    const edge = (2 * 0.3) / Math.sqrt(3);
    expect(relative(sizeRatio(long, short, "k2"))).toBeCloseTo(edge * (1 / 12 - 1 / 20), 12);
  });

  it("carry the degrees of freedom of what they share", () => {
    expect(rectangleArea(part("20"), part("10"), "t95").uncertainty.degreesOfFreedom?.toNumber()).toBeCloseTo(
      10,
      12,
    );
  });

  // Formulas of volume, from memory of Hillebrand et al. 1999 (J. Phycol. 35:403).
  it.each([
    ["sphere of 10", () => sphereVolume(part("10"), "k2"), "523.5987755983"],
    ["spheroid of 10 by 20", () => spheroidVolume(part("10"), part("20"), "k2"), "1047.1975511966"],
    [
      "ellipsoid of 20, 10, 8",
      () => ellipsoidVolume(part("20"), part("10"), part("8"), "k2"),
      "837.7580409573",
    ],
    ["cylinder of 8 by 30", () => cylinderVolume(part("8"), part("30"), "k2"), "1507.9644737231"],
  ])("give the volume of a %s", (_, volume, expected) => {
    expect(volume().value.toFixed(10)).toBe(expected);
  });

  it("refuse a size of zero under a power, an empty list and weights that do not fit", () => {
    expect(() => sizeRatio(part("20"), part("0"), "k2")).toThrow(/^parts\.1: /);
    expect(() => weightedSum([], [], "k2")).toThrow(/^parts: /);
    expect(() => weightedSum([part("1")], [ONE, ONE], "k2")).toThrow(/^parts: /);
    expect(() => powerProduct([part("1")], [1], ZERO, "k2")).toThrow(/^coefficient: /);
  });
});
