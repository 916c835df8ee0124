import { beta, binomial, centralF, chisquare, normal, studentt } from "jstat";
import { describe, expect, it } from "vitest";
import {
  betaQuantile,
  binomialPmf,
  chiSquaredQuantile,
  chiSquaredUpperP,
  fQuantile,
  fUpperP,
  normalCdf,
  normalQuantile,
  studentQuantile,
  studentTwoSidedP,
} from "#core/statistics/distributions.ts";

/** jstat is itself off by up to 5e-8 for t and 2e-7 for F: a wide net over many arguments, where the golden file is a fine one. */
const NET = 5e-7;
const PROBABILITIES = [0.001, 0.01, 0.025, 0.05, 0.2, 0.4, 0.6, 0.8, 0.95, 0.975, 0.99, 0.999];
const DEGREES = [1, 2, 3, 4.3, 5, 7, 9, 12, 16.7, 20, 30, 45.35, 60, 100, 250, 399];

function close(got: number, other: number): boolean {
  return Math.abs(got - other) <= NET * Math.max(Math.abs(other), 1e-3);
}

interface Compared {
  readonly at: string;
  readonly got: number;
  readonly other: number;
}

function expectClose(compared: readonly Compared[]): void {
  expect(compared.length).toBeGreaterThan(10);
  expect(compared.filter(({ got, other }) => !close(got, other))).toEqual([]);
}

const grid = <T>(rows: readonly number[], cell: (row: number, p: number) => T) =>
  rows.flatMap((row) => PROBABILITIES.map((p) => cell(row, p)));

describe("distributions against an independent library, on a grid", () => {
  it("Student's t", () => {
    expectClose(
      grid(DEGREES, (nu, p) => ({
        at: `p ${p}, ν ${nu}`,
        got: studentQuantile(p, nu),
        other: studentt.inv(p, nu),
      })),
    );
    expectClose(
      grid(DEGREES, (nu, t) => ({
        at: `t ${5 * t}, ν ${nu}`,
        got: studentTwoSidedP(5 * t, nu),
        other: 2 * (1 - studentt.cdf(5 * t, nu)),
      })),
    );
  });

  it("the normal distribution", () => {
    expectClose(
      PROBABILITIES.map((p) => ({ at: `p ${p}`, got: normalQuantile(p), other: normal.inv(p, 0, 1) })),
    );
    expectClose(
      grid([-3, -1, 0, 1, 2], (z, p) => ({
        at: `z ${z + p}`,
        got: normalCdf(z + p),
        other: normal.cdf(z + p, 0, 1),
      })),
    );
  });

  it("χ²", () => {
    expectClose(
      grid(DEGREES, (nu, p) => ({
        at: `p ${p}, ν ${nu}`,
        got: chiSquaredQuantile(p, nu),
        other: chisquare.inv(p, nu),
      })),
    );
    expectClose(
      grid(DEGREES, (nu, p) => ({
        at: `χ² ${2 * p * nu}, ν ${nu}`,
        got: chiSquaredUpperP(2 * p * nu, nu),
        other: 1 - chisquare.cdf(2 * p * nu, nu),
      })),
    );
  });

  it("F", () => {
    for (const d2 of [3, 20, 90]) {
      expectClose(
        grid([1, 2, 4, 9, 30], (d1, p) => ({
          at: `p ${p}, ν ${d1}, ${d2}`,
          got: fQuantile(p, d1, d2),
          other: centralF.inv(p, d1, d2),
        })),
      );
      expectClose(
        grid([1, 2, 4, 9, 30], (d1, p) => ({
          at: `F ${3 * p}, ν ${d1}, ${d2}`,
          got: fUpperP(3 * p, d1, d2),
          other: 1 - centralF.cdf(3 * p, d1, d2),
        })),
      );
    }
  });

  it("beta and binomial", () => {
    expectClose(
      grid([1, 3, 20, 80], (a, p) => ({
        at: `p ${p}, a ${a}`,
        got: betaQuantile(p, a, 101 - a),
        other: beta.inv(p, a, 101 - a),
      })),
    );
    expectClose(
      grid([0, 1, 5, 20], (k, p) => ({
        at: `k ${k}, p ${p}`,
        got: binomialPmf(k, 20, p),
        other: binomial.pdf(k, 20, p),
      })),
    );
  });
});
