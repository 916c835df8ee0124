import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  chamberDensityPerObject,
  concentrationFactor,
  depthWithin,
  examinedVolume,
} from "#core/counting/areas/chamber-density.ts";
import { COUNTING_CHAMBERS, NEUBAUER, SEDGEWICK_RAFTER, UTERMOHL } from "#core/counting/areas/chambers.ts";
import {
  calibratedLength,
  circleArea,
  rectangleArea,
  repeated,
  squareArea,
} from "#core/counting/areas/counting-area.ts";
import { densityOf } from "#core/counting/densities/density.ts";
import { reportDensity } from "#core/counting/densities/reported-density.ts";
import { biovolumePerLitre } from "#core/counting/densities/water-biovolume.ts";
import { evidenceOfFields, evidenceOfTotal } from "#core/counting/intervals/count-evidence.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";
import { exactly, relativeUncertaintyOf, standardUncertaintyOf } from "#core/quantity/uncertain-product.ts";

const factor = { factor: decimal("2.5"), standardUncertainty: decimal("0.025") };
const reading = (divisions: string, doubt = "0") => ({
  divisions: decimal(divisions),
  standardUncertainty: decimal(doubt),
});
const fields = (number: number) =>
  ({ kind: "fields", area: squareArea(reading("100"), factor), fields: number }) as const;
const tenMillilitres = { settledVolume: exactly("settledVolume", "10", "mL") };

describe("a counting area from the calibrated factor", () => {
  it("carries the factor once, squared: 1 % of the factor is 2 % of the area", () => {
    for (const area of [
      squareArea(reading("100"), factor),
      circleArea(reading("40"), factor),
      rectangleArea(reading("100"), reading("50"), factor),
    ]) {
      expect(relativeUncertaintyOf(area).toNumber()).toBeCloseTo(0.02, 15);
    }
  });

  it("carries one reading squared and two readings separately", () => {
    const exact = { ...factor, standardUncertainty: ZERO };
    expect(relativeUncertaintyOf(circleArea(reading("40", "0.4"), exact)).toNumber()).toBeCloseTo(0.02, 15);
    const rectangle = rectangleArea(reading("40", "0.4"), reading("40", "0.4"), exact);
    expect(relativeUncertaintyOf(rectangle).toNumber()).toBeCloseTo(0.01 * Math.SQRT2, 15);
  });

  it("agrees with a numerical derivative in the factor", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 1, max: 100 }),
        (divisions, thousandths) => {
          const u = decimal(thousandths).div(100_000);
          const area = circleArea(reading(String(divisions)), {
            factor: decimal("2.5"),
            standardUncertainty: u,
          });
          const at = (f: string) =>
            circleArea(reading(String(divisions)), { factor: decimal(f), standardUncertainty: ZERO }).value;
          const slope = at("2.500001").minus(at("2.499999")).div("0.000002");
          expect(standardUncertaintyOf(area).div(slope.times(u)).toNumber()).toBeCloseTo(1, 9);
        },
      ),
    );
  });

  it("names a reading or a factor that cannot be", () => {
    expect(() => squareArea(reading("0"), factor)).toThrow(/^side\.divisions: must be greater than zero/);
    expect(() => circleArea(reading("5", "-1"), factor)).toThrow(/^diameter\.standardUncertainty: /);
    expect(() => circleArea(reading("5"), { ...factor, factor: ZERO })).toThrow(/^factor: /);
    expect(() => repeated(squareArea(reading("5"), factor), "fields", 0)).toThrow(
      /^fields: must be a whole number/,
    );
    expect(() => calibratedLength("width", reading("-2"), factor)).toThrow(/^width\.divisions: /);
  });
});

describe("a density in a chamber", () => {
  it("has the factor once in a strip and squared in a field", () => {
    const width = calibratedLength("width", reading("100"), factor);
    const strip = chamberDensityPerObject(UTERMOHL, { kind: "strips", width, strips: 2 }, tenMillilitres);
    const field = chamberDensityPerObject(UTERMOHL, fields(20), tenMillilitres);
    expect(relativeUncertaintyOf(strip).toNumber()).toBeCloseTo(0.01, 15);
    expect(relativeUncertaintyOf(field).toNumber()).toBeCloseTo(0.02, 15);
  });

  it("combines count, area, depth and dilution, with shares that add up to 1", () => {
    const sample = { depth: depthWithin(decimal("0.1"), decimal("0.0025")) };
    const density = densityOf(
      evidenceOfTotal(100),
      chamberDensityPerObject(
        NEUBAUER,
        { kind: "fields", area: squareArea(reading("100"), factor), fields: 10 },
        sample,
      ),
    );
    const expected = Math.sqrt(0.1 ** 2 + 0.02 ** 2 + 0.025 ** 2 / 3);
    expect(density.relative?.toNumber()).toBeCloseTo(expected, 14);
    expect(density.expanded?.div(density.value).toNumber()).toBeCloseTo(1.959963984540054 * expected, 12);
    const shares = density.components.map(({ share }) => share.toNumber());
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 14);
    expect(density.components[0]).toMatchObject({ key: "count", name: "count of objects" });
  });

  it("takes the scatter between fields where the objects cluster", () => {
    const perObject = chamberDensityPerObject(SEDGEWICK_RAFTER, {
      kind: "squares",
      square: "square",
      squares: 10,
    });
    const clustered = densityOf(evidenceOfFields([1, 0, 14, 2, 0, 11, 3, 0, 9, 20]), perObject);
    const random = densityOf(evidenceOfTotal(60), perObject);
    expect(clustered.value).toEqual(random.value);
    expect(clustered.components[0]?.name).toBe("scatter between fields");
    expect(clustered.relative?.div(random.relative ?? 1).toNumber()).toBeGreaterThan(2.5);
  });

  it("is the whole count when the whole chamber was counted", () => {
    const whole = densityOf(
      evidenceOfTotal(321),
      chamberDensityPerObject(SEDGEWICK_RAFTER, { kind: "share", share: decimal(1) }),
    );
    expect(whole.value.toString()).toBe("321");
  });

  it("grows with the count and falls with the fields", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), fc.integer({ min: 1, max: 100 }), (count, number) => {
        const at = (c: number, n: number) =>
          densityOf(evidenceOfTotal(c), chamberDensityPerObject(UTERMOHL, fields(n), tenMillilitres)).value;
        expect(at(count + 1, number).greaterThan(at(count, number))).toBe(true);
        expect(at(count, number + 1).lessThan(at(count, number))).toBe(true);
      }),
    );
  });

  it.each([
    [() => examinedVolume(UTERMOHL, fields(60)), "settledVolume: is missing"],
    [() => examinedVolume(NEUBAUER, fields(1000)), "fields: cover more than the floor"],
    [
      () => examinedVolume(NEUBAUER, { kind: "squares", square: "octagon", squares: 1 }),
      "square: is not a square of the Neubauer",
    ],
    [() => examinedVolume(NEUBAUER, { kind: "share", share: decimal(2) }), "share: must not be more than 1"],
    [
      () => examinedVolume(SEDGEWICK_RAFTER, { kind: "squares", square: "square", squares: 1.5 }),
      "squares: must be a whole number",
    ],
    [() => concentrationFactor(ZERO, decimal(25)), "originalVolume: must be greater than zero"],
  ])("refuses what does not fit, at its field (%#)", (attempt, message) => {
    expect(attempt).toThrow(message);
  });

  it("knows the volume its maker names", () => {
    for (const chamber of COUNTING_CHAMBERS) {
      if (chamber.depth === null || chamber.volume === null) continue;
      const whole = examinedVolume(chamber, { kind: "share", share: decimal(1) });
      expect(whole.value.div(chamber.volume).toNumber()).toBeCloseTo(1, 1);
    }
  });
});

describe("the squares of the Neubauer ruling", () => {
  it("fill each other: 25 groups and 400 small ones make a large one", () => {
    const volume = (square: string, squares: number) =>
      examinedVolume(NEUBAUER, { kind: "squares", square, squares }).value.toString();
    expect(volume("group", 25)).toBe(volume("large", 1));
    expect(volume("small", 400)).toBe(volume("large", 1));
  });
});

describe("biovolume in water", () => {
  it("counts a factor shared by area and volume once: −2 and +3 leave +1", () => {
    const density = densityOf(
      evidenceOfTotal(400),
      chamberDensityPerObject(UTERMOHL, fields(60), tenMillilitres),
    );
    const volume = {
      value: decimal(1000),
      unit: "µm³",
      components: [{ key: "factor", name: "calibration factor, cubed", relative: decimal("0.03") }],
    };
    const { product } = density;
    if (!product) throw new Error("a count of 400 has a product");
    const total = biovolumePerLitre(product, volume);
    const ofFactor = total.components.find(({ key }) => key === "factor");
    expect(ofFactor?.relative.toNumber()).toBeCloseTo(0.01, 15);
    expect(total.unit).toBe("mm³/L");
  });
});

describe("a density on paper", () => {
  const report = (count: number, limitOfDetection?: string) =>
    reportDensity(densityOf(evidenceOfTotal(count), exactly("perObject", "12.5", "/mL")), {
      rounding: "half-even",
      ...(limitOfDetection === undefined ? {} : { limitOfDetection: decimal(limitOfDetection) }),
    });

  it("is never a plain zero", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 50 }), (count) => {
        const { kind, text } = report(count);
        expect(kind).toBe(count === 0 ? "less-than" : "value");
        expect(text).not.toMatch(/^0(\.0*)?( |$)/);
      }),
    );
  });

  it("gives less than three objects' worth when none was counted, rounded so that it stays true", () => {
    expect(report(0)).toMatchObject({ kind: "less-than", text: "< 38 /mL (95 % one-sided, none counted)" });
  });

  it("gives the method's limit of detection when the value is below it", () => {
    expect(report(1, "20").text).toBe("< 20 /mL (limit of detection of the method)");
    expect(report(0, "20").text).toBe("< 20 /mL (limit of detection of the method)");
    expect(report(5, "20").kind).toBe("value");
    expect(() => report(5, "0")).toThrow(/^limitOfDetection: /);
  });

  it("gives value and U to the same place", () => {
    expect(report(100).text).toBe("1250 ± 240 /mL (k = 1.96)");
  });
});
