import { expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import { roundWidth } from "#core/statistics/round-width.ts";

it("rounds a width to 1, 2 or 5 times a power of ten, whichever is nearest in ratio", () => {
  const rounded = decimals("3.43 3 0.0069 14 15 72 1").map((width) => roundWidth(width).toString());
  expect(rounded).toEqual(["5", "2", "0.005", "10", "20", "100", "1"]);
  expect(() => roundWidth(decimal(0))).toThrow("width: must be greater than zero");
});
