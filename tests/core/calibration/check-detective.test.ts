import { describe, expect, it } from "vitest";
import { type CheckSuspicion, checkSuspects } from "#core/calibration/check-detective.ts";
import { decimal } from "#core/quantity/decimal.ts";

/*
 * A turret with invented factors: 10×, two 40× that differ by 1.2 %, 100×. The way of naming a cause by the ratio of two
 * factors is common practice, no source.
 */
const other = (name: string, factor: string, u: string | null = "0.0015") => ({
  name,
  part: "objective" as const,
  factor: decimal(factor),
  standardUncertainty: u === null ? null : decimal(u),
});
const TEN = other("10× at position 1", "10.06", "0.006");
const FORTY = other("40× at position 2", "2.513");
const FORTY_TWIN = other("40× at position 3", "2.543");
const HUNDRED = other("100× at position 4", "1.008", "0.0008");

/** A check of `inForce` that read `divisions` over `distance`. */
function suspicion(
  inForce: string,
  divisions: string,
  distance: string,
  change: Partial<CheckSuspicion> = {},
) {
  const factor = decimal(distance).div(divisions);
  return checkSuspects({
    factor,
    standardUncertainty: factor.times("0.0006"),
    inForce: decimal(inForce),
    others: [],
    spans: [{ distance: decimal(distance), divisions: decimal(divisions) }],
    linePitch: decimal(10),
    ...change,
  }).map(({ cause }) => cause);
}

describe("the likely cause of a failed check", () => {
  it("names the objective whose factor it is: a 40× checked as the 100×", () => {
    const causes = suspicion("1.008", "99.5", "250", { others: [TEN, FORTY, FORTY_TWIN] });
    expect(causes[0]).toBe("The ratio is that of objective 40× at position 2 (2.513 µm/div)");
  });

  it("tells two objectives of one power apart by their own factors", () => {
    const causes = suspicion("2.513", "98.3", "250", { others: [TEN, FORTY_TWIN, HUNDRED] });
    expect(causes).toEqual(["The ratio is that of objective 40× at position 3 (2.543 µm/div)"]);
  });

  it("an uncalibrated objective by its engraving, and a changer left in", () => {
    const twenty = other("20× at position 5", "5.03", null);
    expect(suspicion("2.513", "49.1", "250", { others: [twenty] })[0]).toBe(
      "The ratio is that of objective 20× at position 5 (5.03 µm/div by its engraving)",
    );
    const changer = {
      name: "the changer at 1.25×",
      part: "changer" as const,
      factor: decimal("2.0104"),
      standardUncertainty: null,
    };
    expect(suspicion("2.513", "99.2", "200", { others: [changer] })[0]).toContain("the changer at 1.25×");
  });

  it("another spacing of the micrometer, ten divisions misread, and a line miscounted", () => {
    expect(suspicion("10.06", "99.4", "2540")[0]).toContain("ruled in 10 µm, not in thousandths");
    expect(suspicion("2.513", "89.5", "250")[0]).toContain("read 10 divisions fewer");
    expect(suspicion("2.513", "99.48", "240")[0]).toContain("One line too few counted");
  });

  it("names nothing for a drift of 0.5, 1 or 2 %, whatever the turret", () => {
    for (const drift of [0.995, 1.005, 0.99, 1.01, 0.98, 1.02]) {
      const divisions = decimal(250).div(decimal("2.513").times(drift)).toFixed(2);
      expect(suspicion("2.513", divisions, "250", { others: [TEN, HUNDRED] })).toEqual([]);
    }
  });
});
