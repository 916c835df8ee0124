import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
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

interface Golden {
  readonly function: string;
  readonly arguments: readonly number[];
  /** 25 digits, from make-golden.py beside this file. */
  readonly value: string;
}

const golden = JSON.parse(
  readFileSync(fileURLToPath(new URL("./golden.json", import.meta.url)), "utf8"),
) as readonly Golden[];

type Distribution = (...args: number[]) => number;

const FUNCTIONS: Readonly<Record<string, Distribution>> = {
  betaQuantile: betaQuantile as Distribution,
  binomialPmf: binomialPmf as Distribution,
  chiSquaredQuantile: chiSquaredQuantile as Distribution,
  chiSquaredUpperP: chiSquaredUpperP as Distribution,
  fQuantile: fQuantile as Distribution,
  fUpperP: fUpperP as Distribution,
  normalCdf: normalCdf as Distribution,
  normalQuantile: normalQuantile as Distribution,
  studentQuantile: studentQuantile as Distribution,
  studentTwoSidedP: studentTwoSidedP as Distribution,
};

function relativeError(got: number, value: string): number {
  const wanted = decimal(value);
  return decimal(got).minus(wanted).div(wanted).abs().toNumber();
}

/** A tail below 1e-100 is the exponential of a number above 230, whose own rounding shows; below 1e-307 it is zero. */
function allowed(value: string): number {
  return decimal(value).abs().lessThan("1e-100") ? 5e-12 : 1e-12;
}

function agrees({ value, got }: { readonly value: string; readonly got: number }): boolean {
  if (decimal(value).abs().lessThan("1e-307")) return Math.abs(got) < 1e-307;
  return relativeError(got, value) < allowed(value);
}

describe("distributions against 25-digit values from mpmath", () => {
  it.each(Object.keys(FUNCTIONS))("%s is within 1e-12 of every golden value", (name) => {
    const own = golden.filter((entry) => entry.function === name);
    expect(own.length).toBeGreaterThan(5);
    const results = own.map((entry) => ({
      at: entry.arguments.join(", "),
      value: entry.value,
      got: FUNCTIONS[name]?.(...entry.arguments) ?? Number.NaN,
    }));
    const errors = results
      .filter(({ got }) => got !== 0)
      .map(({ at, value, got }) => ({ at, error: relativeError(got, value) }));
    const worst = errors.reduce((a, b) => (b.error > a.error ? b : a));
    console.log(
      `${name}: ${own.length} values, largest relative error ${worst.error.toExponential(1)} at (${worst.at})`,
    );
    expect(results.filter((result) => !agrees(result))).toEqual([]);
  });

  it("knows every function of the golden file", () => {
    expect(golden.filter((entry) => !(entry.function in FUNCTIONS))).toEqual([]);
  });
});
