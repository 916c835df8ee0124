import { describe, expect, it } from "vitest";
import {
  type DerivedPart,
  type DerivedQuantity,
  powerProduct,
  weightedSum,
} from "#core/measurement/derived-quantity.ts";
import { derivedOfParts } from "#core/measurement/row-quantities.ts";
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

const derived = (kind: string, ...parts: DerivedPart[]): DerivedQuantity => derivedOfParts(kind, parts, "k2");
const rectangle = (...parts: DerivedPart[]): DerivedQuantity => powerProduct(parts, [1, 1], ONE, "k2");

const relative = (of: { value: typeof ONE; uncertainty: { standard: typeof ONE } }): number =>
  of.uncertainty.standard.div(of.value).toNumber();

describe("quantities from several sizes by one factor", () => {
  it("are exactly 1 where both sizes are equal, whatever the size", () => {
    // Times its reciprocal, this one gives 0.99…9 in decimals of 34 digits, and another class of shape.
    const sizes = ["25.41299797703703680258732250611216", "3", "7", "23.0", "0.000123456789"];
    for (const size of sizes) expect(derived("ratio", part(size), part(size)).value.toString()).toBe("1");
  });

  it("have no uncertainty from the factor in a ratio, twice in an area, three times in a volume", () => {
    expect(relative(derived("ratio", part("20"), part("10")))).toBe(0);
    expect(relative(rectangle(part("20"), part("10")))).toBeCloseTo(0.02, 12);
    expect(relative(derived("circle-area", part("20")))).toBeCloseTo(0.02, 12);
    expect(relative(derived("sphere", part("20")))).toBeCloseTo(0.03, 12);
    expect(relative(derived("prolate-spheroid", part("20"), part("30")))).toBeCloseTo(0.03, 12);
  });

  it("by two factors combine them as independent", () => {
    const other = part("10", { calibration: "two" });
    expect(relative(derived("ratio", part("20"), other))).toBeCloseTo(0.01 * Math.SQRT2, 12);
    expect(relative(rectangle(part("20"), other))).toBeCloseTo(0.01 * Math.SQRT2, 12);
  });

  it("take edges biased alike out of a difference, and keep them in a ratio", () => {
    const long = part("20", { edge: "0.3" });
    const short = part("12", { edge: "0.3" });
    expect(weightedSum([long, short], [ONE, d("-1")], "k2").uncertainty.standard.toNumber()).toBeCloseTo(
      0.08,
      12,
    );
    const edge = (2 * 0.3) / Math.sqrt(3);
    expect(relative(derived("ratio", long, short))).toBeCloseTo(edge * (1 / 12 - 1 / 20), 12);
  });

  it("carry the degrees of freedom of what they share", () => {
    expect(
      powerProduct([part("20"), part("10")], [1, 1], ONE, "t95").uncertainty.degreesOfFreedom?.toNumber(),
    ).toBeCloseTo(10, 12);
  });

  // Formulas of volume, from memory of Hillebrand et al. 1999 (J. Phycol. 35:403).
  it.each([
    ["sphere of 10", () => derived("sphere", part("10")), "523.5987755983"],
    ["spheroid of 10 by 20", () => derived("prolate-spheroid", part("10"), part("20")), "1047.1975511966"],
    [
      "ellipsoid of 20, 10, 8",
      () => derived("ellipsoid", part("20"), part("10"), part("8")),
      "837.7580409573",
    ],
    ["cylinder of 8 by 30", () => derived("cylinder", part("8"), part("30")), "1507.9644737231"],
  ])("give the volume of a %s", (_, volume, expected) => {
    expect(volume().value.toFixed(10)).toBe(expected);
  });

  it("refuse a size of zero under a power, an empty list and weights that do not fit", () => {
    expect(() => derived("ratio", part("20"), part("0"))).toThrow(/^parts\.1: /);
    expect(() => weightedSum([], [], "k2")).toThrow(/^parts: /);
    expect(() => weightedSum([part("1")], [ONE, ONE], "k2")).toThrow(/^parts: /);
    expect(() => powerProduct([part("1")], [1], ZERO, "k2")).toThrow(/^coefficient: /);
  });
});
