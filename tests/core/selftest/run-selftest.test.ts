import { describe, expect, it } from "vitest";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { InputError } from "#core/quantity/input-error.ts";
import type { ReferenceCase } from "#core/selftest/reference-case.ts";
import { runSelftest, type SelftestRow } from "#core/selftest/run-selftest.ts";

function caseOf(expected: string, tolerance: string, got: ReferenceCase["got"]): ReferenceCase {
  return {
    id: "planted",
    source: "invented",
    standing: "golden",
    what: "a planted case",
    expected,
    tolerance,
    got,
  };
}

function rowOf(expected: string, tolerance: string, got: ReferenceCase["got"]): SelftestRow | undefined {
  return runSelftest([caseOf(expected, tolerance, got)]).rows[0];
}

describe("the self-test", () => {
  it("reports a planted wrong case as a disagreement, with both values", () => {
    const report = runSelftest([
      caseOf("2.5", "0.001", () => decimal("2.5004")),
      caseOf("2.5", "0.001", () => decimal("2.502")),
    ]);
    expect(report).toMatchObject({ agreeing: 1, disagreeing: 1 });
    expect(report.rows.map((row) => row.agrees)).toEqual([true, false]);
    expect(report.rows[1]).toMatchObject({ expected: "2.5", got: "2.502" });
  });

  it("takes the tolerance itself as inside, and compares as decimals where floats would round it away", () => {
    expect(rowOf("0.3", "0.1", () => decimal("0.4"))?.agrees).toBe(true);
    expect(rowOf("0.3", "0.1", () => decimal("0.4000000000000000000000000001"))?.agrees).toBe(false);
    expect(rowOf("1e-26", "1e-40", () => 1e-26)?.agrees).toBe(true);
  });

  it("compares exact numbers by value and exact text by character", () => {
    expect(rowOf("1.50", "exact", () => decimal("1.5"))?.agrees).toBe(true);
    expect(rowOf("45", "exact", () => 45)?.agrees).toBe(true);
    expect(rowOf("1.50", "exact", () => "1.5")?.agrees).toBe(false);
    expect(rowOf("prolate", "exact", () => "prolate")?.agrees).toBe(true);
    expect(rowOf("prolate", "exact", () => "Prolate")?.agrees).toBe(false);
  });

  it("takes a throwing case as a disagreement with its message", () => {
    const row = rowOf("1", "0", () => {
      throw new InputError("settings.2", "must not be empty");
    });
    expect(row).toMatchObject({ agrees: false, got: "", error: "settings.2: must not be empty" });
    expect(
      rowOf("1", "0", () => {
        throw "in words";
      }),
    ).toMatchObject({ agrees: false, error: "in words" });
  });

  const INCOMPARABLE: readonly (readonly [string, string, string, Decimal | number | string, string])[] = [
    ["a result that is no number", "1", "0.1", "one", "the result is not a number: “one”"],
    ["NaN", "1", "0.1", Number.NaN, "the result is not a number: “NaN”"],
    ["an infinite result", "1", "exact", Number.POSITIVE_INFINITY, "the result is not a number: “Infinity”"],
    ["an expected value that is no number", "one", "0.1", 1, "the expected value is not a number: “one”"],
    ["a tolerance that is no number", "1", "some", 1, "the tolerance is not a number: “some”"],
  ];

  it.each(INCOMPARABLE)("never lets %s pass", (_, expected, tolerance, got, error) => {
    expect(rowOf(expected, tolerance, () => got)).toMatchObject({ agrees: false, error });
  });

  it("keeps going after a disagreement and keeps the order", () => {
    const report = runSelftest(["1", "2", "3"].map((expected) => caseOf(expected, "0", () => 2)));
    expect(report.rows.map((row) => row.agrees)).toEqual([false, true, false]);
  });
});
