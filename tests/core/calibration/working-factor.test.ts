import { describe, expect, it } from "vitest";
import { factorRecordOf } from "#core/calibration/factor-record.ts";
import { withWorkingFactor, workingWords } from "#core/calibration/working-factor.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { plainCalibration } from "#core/selftest/plain-setups.ts";
import { normalCdf } from "#core/statistics/distributions.ts";

/** Three settings of an invented train: 99.0, 99.1 and 98.9 div on 1 mm. */
const EXACT = factorRecordOf(
  plainCalibration({
    lengths: ["1000", "1000", "1000"],
    divisions: ["99.0", "99.1", "98.9"],
    expandedUncertainty: "0.3",
    conditions: { smallestFraction: decimal("0.1") },
    estimator: "origin-regression",
    coverage: "t95",
  }),
);

describe("a working factor", () => {
  const found = withWorkingFactor(EXACT, 1, "t95");

  it("is in force as the procedure rounds it, with the exact one beside it", () => {
    expect(found.factor).toBe("10.1");
    expect(found.shownFactor).toBe("10.1");
    expect(found.working).toMatchObject({ places: 1, factor: EXACT.factor });
    expect(workingWords(found)).toBe(
      ` (working factor of the procedure; exact ${EXACT.shownFactor} ± ${EXACT.shownUncertainty} µm/div)`,
    );
    expect(workingWords(EXACT)).toBe("");
  });

  it("has the known difference in its budget, and u² + δ² as its variance", () => {
    const difference = Number(found.factor) - Number(EXACT.factor);
    const line = found.budget.find(({ key }) => key === "working");
    expect(line).toMatchObject({ distribution: "known difference", class: "common" });
    expect(Number(line?.contribution)).toBeCloseTo(Math.abs(difference), 12);
    expect(Number(found.standardUncertainty)).toBeCloseTo(
      Math.hypot(Number(EXACT.standardUncertainty), difference),
      12,
    );
    expect(Number(found.commonUncertainty)).toBeCloseTo(
      Math.hypot(Number(EXACT.commonUncertainty), difference),
      12,
    );
    const shares = found.budget.reduce((sum, one) => sum + Number(one.share), 0);
    expect(shares).toBeCloseTo(1, 10);
  });

  it("takes more from few digits: 10 in place of 10.1 grows U to twice the difference", () => {
    const coarse = withWorkingFactor(EXACT, 0, "k2");
    expect(coarse.factor).toBe("10");
    expect(Number(coarse.expandedUncertainty)).toBeCloseTo(
      2 * Math.hypot(Number(EXACT.standardUncertainty), 10 - Number(EXACT.factor)),
      12,
    );
    expect(() => withWorkingFactor({ ...EXACT, factor: "0.3" as never }, 0, "t95")).toThrow(/^places: /);
  });

  it("covers the exact factor at 95 % and more whatever the difference is, in units of u", () => {
    // P(|N(δ, 1)| ≤ k√(1 + δ²)) with k = 1.96: the error of an exact factor plus a known difference left in.
    for (let difference = 0; difference <= 6; difference += 0.05) {
      const half = 1.959963985 * Math.hypot(1, difference);
      const covered = normalCdf(half - difference) - normalCdf(-half - difference);
      expect(covered).toBeGreaterThanOrEqual(0.95 - 1e-9);
    }
  });
});
