import { describe, expect, it } from "vitest";
import { chiSquaredQuantile, chiSquaredUpperP } from "#core/statistics/distributions.ts";
import { largeGammaTails } from "#core/statistics/large-gamma.ts";

/*
 * Expected values: mpmath 1.3.0 at 50 digits, the gamma density integrated numerically and, for quantiles, the root
 * found of that integral. They are independent of the series and the fraction under test.
 */
const UPPER_TAILS: readonly (readonly [a: number, x: number, upper: number])[] = [
  [200, 180, 0.9251419650158405],
  [200, 260, 4.750012444300876e-5],
  [500, 500, 0.49405285382923964],
  [950, 1011, 0.025646577298835207],
  [1000, 1000, 0.4957947558197845],
  [1001, 1064, 0.024915220858975334],
  [3000, 3100, 0.03500001369904636],
  [20000, 19700, 0.9834001840309762],
  [100000, 100500, 0.057103269976028714],
];

const QUANTILES: readonly (readonly [p: number, nu: number, quantile: number])[] = [
  [0.025, 400, 346.48176536291464],
  [0.975, 2002, 2127.904272032604],
  [0.025, 2000, 1877.9460368153905],
  [0.975, 5000, 5197.883771923797],
  [0.995, 2002, 2168.7457361287784],
  [0.3, 40000, 39851.195187585115],
];

describe("χ² with many degrees of freedom, where the library alone is wrong by up to 3 %", () => {
  it.each(UPPER_TAILS)("upper tail for a = %d at x = %d", (a, x, upper) => {
    expect(Math.abs(chiSquaredUpperP(2 * x, 2 * a) / upper - 1)).toBeLessThan(1e-12);
  });

  it.each(QUANTILES)("quantile at p = %d with %d degrees of freedom", (p, nu, quantile) => {
    expect(Math.abs(chiSquaredQuantile(p, nu) / quantile - 1)).toBeLessThan(1e-14);
  });

  it("hands over from the library to the series without a step", () => {
    for (const shift of [-40, -10, 0, 10, 40]) {
      const below = chiSquaredUpperP(400 + shift, 399.999999);
      const above = chiSquaredUpperP(400 + shift, 400);
      expect(Math.abs(above - below)).toBeLessThan(3e-8);
    }
  });

  it("gives tails that add up to one", () => {
    for (const x of [150, 199.9, 200, 200.1, 300]) {
      const { lower, upper } = largeGammaTails(200, x);
      expect(lower + upper).toBeCloseTo(1, 14);
    }
  });

  it("names what it cannot use", () => {
    expect(() => largeGammaTails(100, 5)).toThrow("a: must be 200 or more");
    expect(() => largeGammaTails(300, 0)).toThrow("x: must be greater than zero");
  });
});
