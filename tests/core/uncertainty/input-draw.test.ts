import { describe, expect, it } from "vitest";
import { studentQuantile } from "#core/statistics/distributions.ts";
import { evenChance } from "#core/uncertainty/chance-generator.ts";
import {
  arcSineDraw,
  type Draw,
  inexactRectangularDraw,
  normalDraw,
  rectangularDraw,
  studentDraw,
} from "#core/uncertainty/input-draw.ts";

const DRAWS = 200_000;

function drawn(draw: Draw): Float64Array {
  const even = evenChance(7);
  return Float64Array.from({ length: DRAWS }, () => draw(even)).sort();
}

/** Variances and fourth moments by integration of the densities in JCGM 101:2008 Table 1. */
const SHAPES: readonly [string, Draw, number, number][] = [
  ["normal, u = 2", normalDraw(2), 4, 3 * 16],
  ["rectangle, a = 3", rectangularDraw(3), 3, 81 / 5],
  ["arc sine, a = 2: a²/2", arcSineDraw(2), 2, (3 * 16) / 8],
  // (a² + d²/3)/3; the fourth moment E w⁴/5 with w even on a ± d.
  ["doubted rectangle, a = 3, d = 1.5", inexactRectangularDraw(3, 1.5), 3.25, (4.5 ** 5 - 1.5 ** 5) / 75],
  ["t with ν = 10, scale 2: ν/(ν − 2)", studentDraw(2, 10), 5, 16 * ((3 * 100) / (8 * 6))],
];

describe("what is drawn for an input", () => {
  it.each(SHAPES)("%s: mean 0 and its variance", (_, draw, variance, fourth) => {
    const values = drawn(draw);
    const mean = values.reduce((sum, one) => sum + one, 0) / DRAWS;
    const square = values.reduce((sum, one) => sum + one * one, 0) / DRAWS;
    expect(Math.abs(mean)).toBeLessThan(4 * Math.sqrt(variance / DRAWS));
    expect(Math.abs(square - variance)).toBeLessThan(4 * Math.sqrt((fourth - variance ** 2) / DRAWS));
  });

  it.each([1, 2.5, 12.5])("t with ν = %d has Student's quantiles", (nu) => {
    const values = drawn(studentDraw(1, nu));
    for (const p of [0.025, 0.25, 0.75, 0.975]) {
      const below = values.findIndex((one) => one > studentQuantile(p, nu)) / DRAWS;
      expect(Math.abs(below - p)).toBeLessThan(4 * Math.sqrt((p * (1 - p)) / DRAWS));
    }
  });

  it("repeats itself by its seed, and not by another", () => {
    const first = (seed: number): number[] => Array.from({ length: 5 }, evenChance(seed));
    expect(first(101)).toEqual(first(101));
    expect(first(101)).not.toEqual(first(102));
    expect(first(0).every((one) => one > 0 && one < 1)).toBe(true);
  });
});
