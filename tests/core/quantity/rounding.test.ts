import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import {
  formatToPlaces,
  ROUNDING_RULES,
  reportWithUncertainty,
  roundToPlaces,
  roundToSignificant,
} from "#core/quantity/rounding.ts";

const value = fc
  .tuple(fc.bigInt({ min: -(10n ** 18n), max: 10n ** 18n }), fc.integer({ min: 0, max: 15 }))
  .map(([digits, places]) => decimal(`${digits}e-${places}`));
const rule = fc.constantFrom(...ROUNDING_RULES);

describe("rounding", () => {
  it("changes nothing the second time", () => {
    fc.assert(
      fc.property(value, fc.integer({ min: -5, max: 15 }), rule, (x, places, by) => {
        const once = roundToPlaces(x, places, by);
        expect(roundToPlaces(once, places, by).equals(once)).toBe(true);
        expect(formatToPlaces(once, places, by)).toBe(formatToPlaces(x, places, by));
      }),
    );
  });

  it("to significant digits changes nothing the second time", () => {
    fc.assert(
      fc.property(value, fc.integer({ min: 1, max: 12 }), rule, (x, digits, by) => {
        const once = roundToSignificant(x, digits, by);
        expect(roundToSignificant(once, digits, by).equals(once)).toBe(true);
      }),
    );
  });

  it("moves a value by at most half a unit of the last place", () => {
    fc.assert(
      fc.property(value, fc.integer({ min: 0, max: 12 }), rule, (x, places, by) => {
        const moved = roundToPlaces(x, places, by).minus(x).abs();
        expect(moved.lessThanOrEqualTo(decimal(`5e-${places + 1}`))).toBe(true);
      }),
    );
  });

  it("is the mirror image below zero", () => {
    fc.assert(
      fc.property(value, fc.integer({ min: 0, max: 12 }), rule, (x, places, by) => {
        expect(roundToPlaces(x.negated(), places, by).equals(roundToPlaces(x, places, by).negated())).toBe(
          true,
        );
      }),
    );
  });

  it("prints a value and its U to the same place, whatever their size", () => {
    fc.assert(
      fc.property(
        value,
        fc.integer({ min: 1, max: 10 ** 9 }),
        fc.integer({ min: 0, max: 12 }),
        rule,
        (x, digits, shift, by) => {
          const shown = reportWithUncertainty(x, decimal(`${digits}e-${shift}`), by);
          const places = (text: string) => text.split(".")[1]?.length ?? 0;
          expect(places(shown.value)).toBe(Math.max(0, shown.places));
          expect(places(shown.uncertainty)).toBe(Math.max(0, shown.places));
          expect(
            decimal(shown.uncertainty).div(`${digits}e-${shift}`).minus(1).abs().toNumber(),
          ).toBeLessThan(0.05);
        },
      ),
    );
  });

  it("shows U of 100 or more to tens, and the value with it", () => {
    expect(reportWithUncertainty(decimal("1234.6"), decimal("123"))).toEqual({
      value: "1230",
      uncertainty: "120",
      places: -1,
    });
  });

  it("carries a rounding of U into the next place", () => {
    expect(reportWithUncertainty(decimal("1.23456"), decimal("0.0996"))).toEqual({
      value: "1.23",
      uncertainty: "0.10",
      places: 2,
    });
  });

  it("leaves a value without uncertainty as it is", () => {
    expect(reportWithUncertainty(decimal("353.5"), decimal(0))).toEqual({
      value: "353.5",
      uncertainty: "0",
      places: 1,
    });
  });

  it.each(["NaN", "Infinity", "-1"])("refuses U = %s", (bad) => {
    expect(() => reportWithUncertainty(decimal(1), decimal(bad))).toThrow(/^expanded: /);
  });
});
