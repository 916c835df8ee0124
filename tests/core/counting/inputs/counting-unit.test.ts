import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import {
  readObjects,
  sumOfObjects,
  textOfThousandths,
  thousandthsOf,
} from "#core/counting/inputs/counting-unit.ts";
import { fieldScatter } from "#core/counting/intervals/field-scatter.ts";
import { decimal } from "#core/quantity/decimal.ts";

const category = (unit: Partial<CountCategory>): CountCategory => ({
  key: "filaments",
  name: "filaments",
  keyCode: "Numpad1",
  kind: "object",
  halves: false,
  ...unit,
});
const [whole, halves, decimals] = [category({}), category({ halves: true }), category({ decimals: true })];

describe("what a counting unit takes", () => {
  it.each([
    [whole, "12", 12_000],
    [whole, "12,0", 12_000],
    [halves, "0.5", 500],
    [decimals, "2.4", 2400],
    [decimals, "0.125", 125],
    [decimals, "1000000", 1_000_000_000],
  ])("%o takes %s exactly", (unit, typed, thousandths) => {
    expect(readObjects("weight", typed, unit)).toBe(thousandths);
  });

  it.each([
    [whole, "2.5", "takes whole numbers, not 2.5"],
    [halves, "2,4", "takes whole and half numbers, not 2,4"],
    [decimals, "2.4005", "takes numbers with at most three decimals, not 2.4005"],
    [decimals, "-0.1", "must not be less than zero"],
    [decimals, "1000000.1", "is more than 1000000"],
    [decimals, "1e3", /without an exponent/],
  ])("%o refuses %s in words", (unit, typed, words) => {
    expect(() => readObjects("weight", typed, unit)).toThrow(words);
  });
});

describe("sums", () => {
  const count = fc.integer({ min: 0, max: 2_000_000 });

  it("are those of exact decimals, where binary numbers would drift", () => {
    expect(0.1 + 0.2).not.toBe(0.3);
    expect(sumOfObjects([0.1, 0.2])).toBe(0.3);
    fc.assert(
      fc.property(fc.array(count, { maxLength: 40 }), (thousandths) => {
        const counts = thousandths.map((one) => one / 1000);
        const exact = counts.reduce((sum, one) => sum.plus(one), decimal(0));
        expect(decimal(sumOfObjects(counts)).equals(exact)).toBe(true);
      }),
    );
  });

  it("come back from text as they went in", () => {
    fc.assert(
      fc.property(count, (thousandths) => {
        expect(thousandthsOf(textOfThousandths(thousandths))).toBe(thousandths);
      }),
    );
  });

  it("equal fields do not scatter, whatever their decimals", () => {
    expect(fieldScatter([0.1, 0.1, 0.1]).variance).toBe(0);
    // By hand: mean 2, deviations 0.4, 0, −0.4.
    expect(fieldScatter([2.4, 2, 1.6]).variance).toBeCloseTo(0.16, 15);
  });
});
