import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { circleArea, fieldOfView, measuredCircle } from "#core/optics/field-of-view.ts";
import { divisionsOfDrum, drumStep } from "#core/optics/filar-drum.ts";
import { graticuleCircleMm } from "#core/optics/graticule-order.ts";
import { nominalFactor } from "#core/optics/nominal-factor.ts";
import { objectiveRing } from "#core/optics/objective-ring.ts";
import { resolutionLimitUm } from "#core/optics/resolution.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";

const d = decimal;

describe("the ring of an objective", () => {
  // Colour code of ISO 8578:2012, from memory.
  it.each([
    ["1", "black"],
    ["1.25", "black"],
    ["1.6", "brown"],
    ["2", "brown"],
    ["2.5", "brown"],
    ["4", "red"],
    ["5", "red"],
    ["6.3", "orange"],
    ["10", "yellow"],
    ["16", "light green"],
    ["20", "light green"],
    ["25", "dark green"],
    ["32", "dark green"],
    ["40", "light blue"],
    ["50", "light blue"],
    ["60", "dark blue"],
    ["63", "dark blue"],
    ["80", "dark blue"],
    ["100", "white"],
    ["150", "white"],
    // Between the steps: the nearer by ratio. 3/2.5 = 1.2 and 4/3 = 1.33; 12.5/10 = 1.25 and 16/12.5 = 1.28.
    ["0.5", "black"],
    ["3", "brown"],
    ["3.2", "red"],
    ["8", "yellow"],
    ["12.5", "yellow"],
    ["90", "white"],
  ])("of %s× is %s", (magnification, colour) => {
    expect(objectiveRing(d(magnification))).toBe(colour);
  });

  it.each(["0", "-10", "NaN", "Infinity"])("refuses a magnification of %s", (bad) => {
    expect(() => objectiveRing(d(bad))).toThrow(/^magnification: /);
  });
});

describe("nominal factor", () => {
  const of = (own: Partial<Parameters<typeof nominalFactor>[0]>) =>
    nominalFactor({ reticleLengthMm: d(10), divisions: 100, objective: d(40), intermediate: d(1), ...own });

  it("falls with every magnification in the train", () => {
    expect(of({}).toString()).toBe("2.5");
    expect(of({ intermediate: d("1.25") }).toString()).toBe("2");
    expect(of({ reticleLengthMm: d(5), divisions: d(200) }).toString()).toBe("0.625");
  });

  it.each(["reticleLengthMm", "divisions", "objective", "intermediate"])("refuses %s of zero", (key) => {
    expect(() => of({ [key]: ZERO })).toThrow(new RegExp(`^${key}: `));
  });
});

describe("field of view", () => {
  it("measured and calculated agree when the factor is the nominal one", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 10, max: 30 }),
        fc.integer({ min: 1, max: 150 }),
        (fieldNumber, magnification) => {
          const calculated = fieldOfView(d(fieldNumber), d(magnification), d(1));
          const factor = nominalFactor({
            reticleLengthMm: d(10),
            divisions: 100,
            objective: d(magnification),
            intermediate: d(1),
          });
          const measured = measuredCircle(d(fieldNumber).times(10), factor);
          expect(measured.areaMm2.toPrecision(25)).toBe(calculated.areaMm2.toPrecision(25));
        },
      ),
    );
  });

  it("grows with the square of its diameter", () => {
    expect(
      circleArea(d("1.02"))
        .div(circleArea(d(1)))
        .toFixed(20),
    ).toBe("1.04040000000000000000");
  });

  it("refuses what has no size", () => {
    expect(() => fieldOfView(ZERO, d(10), d(1))).toThrow(/^fieldNumber: /);
    expect(() => measuredCircle(d(10), d("NaN"))).toThrow(/^factor: /);
    expect(() => circleArea(d(-1))).toThrow(/^diameter: /);
  });
});

describe("resolution, drums and circles to order", () => {
  it("falls with the aperture and refuses one no objective has", () => {
    expect(resolutionLimitUm(d("1.4")).lessThan(resolutionLimitUm(d("0.65")))).toBe(true);
    for (const bad of ["0", "-1", "40", "NaN"]) {
      expect(() => resolutionLimitUm(d(bad)), bad).toThrow(/^numericalAperture: /);
    }
    expect(() => resolutionLimitUm(d("0.65"), ZERO)).toThrow(/^wavelengthUm: /);
  });

  it("reads a drum as turns and parts of a turn", () => {
    expect(divisionsOfDrum(d(3), d("47.5"), 100).toString()).toBe("3.475");
    expect(divisionsOfDrum(d(3), d(0), 100, d(2)).toString()).toBe("6");
    expect(drumStep(100).toString()).toBe("0.01");
  });

  it("refuses half turns and drums past a whole turn", () => {
    expect(() => divisionsOfDrum(d("3.5"), d(0), 100)).toThrow(/^turns: /);
    expect(() => divisionsOfDrum(d(3), d(100), 100)).toThrow(/^drum: /);
    expect(() => divisionsOfDrum(d(3), d(-1), 100)).toThrow(/^drum: /);
    expect(() => divisionsOfDrum(d(3), d(1), 0)).toThrow(/^drumDivisions: /);
    expect(() => divisionsOfDrum(d(3), d(1), 100, ZERO)).toThrow(/^divisionsPerTurn: /);
  });

  it("refuses a circle from a length of zero", () => {
    expect(() => graticuleCircleMm(d(4), ZERO, d(100))).toThrow(/^apparentLengthUm: /);
  });
});
