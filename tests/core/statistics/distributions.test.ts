import { describe, expect, it } from "vitest";
import {
  betaQuantile,
  binomialPmf,
  chiSquaredQuantile,
  chiSquaredUpperP,
  fQuantile,
  fUpperP,
  normalQuantile,
  studentQuantile,
  studentTwoSidedP,
} from "#core/statistics/distributions.ts";

const NONE = Number.NaN;
const INFINITE = Number.POSITIVE_INFINITY;

describe("distributions at their edges", () => {
  it("take infinitely many degrees of freedom for the limit they are", () => {
    expect(studentQuantile(0.975, INFINITE)).toBe(normalQuantile(0.975));
    expect(studentTwoSidedP(1.959963984540054, INFINITE)).toBeCloseTo(0.05, 14);
    expect(fQuantile(0.95, 4, INFINITE)).toBeCloseTo(chiSquaredQuantile(0.95, 4) / 4, 14);
    expect(fQuantile(0.95, INFINITE, INFINITE)).toBe(1);
    expect(fUpperP(2, 4, INFINITE)).toBeCloseTo(chiSquaredUpperP(8, 4), 14);
  });

  it("are symmetric where they should be", () => {
    expect(studentQuantile(0.5, 3)).toBe(0);
    expect(studentQuantile(0.025, 7)).toBeCloseTo(-studentQuantile(0.975, 7), 14);
    expect(studentTwoSidedP(-2, 5)).toBe(studentTwoSidedP(2, 5));
    expect(studentTwoSidedP(INFINITE, 5)).toBe(0);
    expect(chiSquaredUpperP(0, 3)).toBe(1);
    expect(fUpperP(0, 3, 3)).toBe(1);
    expect(binomialPmf(5, 4, 0.5)).toBe(0);
  });

  it.each([
    ["p", () => studentQuantile(0, 3)],
    ["p", () => studentQuantile(1, 3)],
    ["p", () => studentQuantile(NONE, 3)],
    ["p", () => normalQuantile(1.5)],
    ["p", () => betaQuantile(0, 1, 1)],
    ["p", () => binomialPmf(1, 2, 0)],
    ["nu", () => studentQuantile(0.5, 0)],
    ["nu", () => studentTwoSidedP(1, -1)],
    ["nu", () => chiSquaredQuantile(0.5, NONE)],
    ["nu", () => chiSquaredQuantile(0.5, INFINITE)],
    ["d1", () => fQuantile(0.5, 0, 3)],
    ["d2", () => fUpperP(1, 3, NONE)],
    ["a", () => betaQuantile(0.5, 0, 3)],
    ["b", () => betaQuantile(0.5, 1, INFINITE)],
    ["t", () => studentTwoSidedP(NONE, 3)],
    ["x", () => chiSquaredUpperP(NONE, 3)],
    ["k", () => binomialPmf(1.5, 2, 0.5)],
    ["n", () => binomialPmf(1, -2, 0.5)],
  ])("name %s when it cannot be used", (field, call) => {
    expect(call).toThrow(expect.objectContaining({ name: "InputError", field }));
  });
});
