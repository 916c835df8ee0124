import { describe, expect, it } from "vitest";
import { gridArea, squaredFactor } from "#core/calibration/area-factor.ts";
import { detect } from "#core/calibration/detective.ts";
import { DETECTIVE_TABLE } from "#core/calibration/detective-table.ts";
import { type AdvisedMicrometer, adviseMicrometers } from "#core/calibration/micrometer-adviser.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";

const d = decimal;

describe("the detective", () => {
  it.each([
    ["2.02", "2.5", "1.25×"],
    ["1.66", "2.5", "1.5×"],
    ["1.57", "2.5", "1.6×"],
    ["20.3", "10", "entered as 5 mm"],
    ["5.05", "10", "5 mm long"],
    ["9.05", "10", "180 mm tube lens"],
    ["1.01", "10", "ten times too close"],
    ["3.95", "10", "thousandths of an inch"],
    ["39.8", "10", "quarter of the magnification"],
  ])("given %s µm/div for a nominal %s names the cause", (measured, nominal, cause) => {
    const report = detect(d(measured), d(nominal));
    expect(report.normal).toBe(false);
    expect(report.suspects.map((one) => one.cause).join(" | ")).toContain(cause);
    const distances = report.suspects.map((one) => one.distance.toNumber());
    expect(distances).toEqual([...distances].sort((a, b) => a - b));
  });

  it("leaves a factor within 5 % of nominal alone", () => {
    expect(detect(d("10.4"), d(10))).toMatchObject({ normal: true, plausible: true, suspects: [] });
  });

  it("tries the turret's own objectives first", () => {
    const turret = [
      { name: "20×", magnification: d(20) },
      { name: "40×", magnification: d(40) },
      { name: "63×", magnification: d(63) },
    ];
    const report = detect(d("3.19"), d(5), d(20), turret);
    expect(report.suspects).toHaveLength(1);
    expect(report.suspects[0]?.cause).toContain("changer");
    expect(detect(d("1.6"), d(5), d(20), turret).suspects[0]?.cause).toContain("63×");
    expect(detect(d("2.5"), d(5), d(20), turret).suspects[0]?.cause).toContain("40×");
  });

  it("calls a ratio beyond 0.4 to 2.5 implausible, and an odd one unexplained", () => {
    expect(detect(d("0.39"), d(1)).plausible).toBe(false);
    expect(detect(d("2.6"), d(1)).plausible).toBe(false);
    expect(detect(d("1.37"), d(1))).toMatchObject({ normal: false, plausible: true, suspects: [] });
  });

  it("knows no entry that lies within the normal band", () => {
    for (const entry of DETECTIVE_TABLE) expect(Math.abs(Number(entry.ratio) - 1)).toBeGreaterThan(0.05);
  });

  it("refuses a nominal factor of zero", () => {
    expect(() => detect(d(1), ZERO)).toThrow(/^nominal: /);
  });
});

describe("the adviser for stage micrometers", () => {
  const one = (
    id: string,
    lengthUm: number,
    divisions: number,
    own: Partial<AdvisedMicrometer> = {},
  ): AdvisedMicrometer => ({
    id,
    name: id,
    scaleLengthUm: d(lengthUm),
    divisions,
    expandedUncertainty: d("0.3"),
    certificateDueOn: "2030-01-01",
    ...own,
  });
  const TENTH = one("0.1/0.002", 100, 50);
  const MILLIMETRE = one("1/0.01", 1000, 100);
  const FIVE = one("5/0.05", 5000, 100);
  const advise = (factor: string, list = [TENTH, MILLIMETRE, FIVE]) =>
    adviseMicrometers(list, d(factor), 100, "2026-06-01").map((advice) => advice.id);

  it.each([
    ["4×", "25", "5/0.05"],
    ["10×", "10", "1/0.01"],
    ["40×", "2.5", "1/0.01"],
    ["100×", "1", "0.1/0.002"],
  ])("puts first at %s the one that covers the scale with the finest ruling", (_, factor, best) => {
    expect(advise(factor)[0]).toBe(best);
  });

  it("says how much of the scale is covered when it is little", () => {
    const [, , last] = adviseMicrometers([TENTH, MILLIMETRE, FIVE], d(25), 100, "2026-06-01");
    expect(last?.id).toBe("0.1/0.002");
    expect(last?.spanDivisions.toString()).toBe("4");
    expect(last?.reasons[0]).toContain("only 4.0 of 100 divisions");
    expect(last?.reasons[0]).toContain("25.0 times");
  });

  it("puts those without a certificate in date last, whatever they cover", () => {
    const overdue = { ...MILLIMETRE, id: "overdue", certificateDueOn: "2026-05-31" };
    const bare = one("bare", 1000, 100, { expandedUncertainty: null, certificateDueOn: null });
    expect(advise("10", [bare, overdue, TENTH])[0]).toBe("0.1/0.002");
    const reasons = adviseMicrometers([bare, overdue], d(10), 100, "2026-06-01").map(
      (advice) => advice.reasons[1],
    );
    expect(reasons).toContain("has no certificate: not traceable");
    expect(reasons).toContain("its certificate was due on 2026-05-31");
  });

  it("counts a scale too coarse for the train as no use", () => {
    const [coarse] = adviseMicrometers([one("10/1", 10_000, 10)], d(1), 100, "2026-06-01");
    expect(coarse).toMatchObject({ steps: 0, usable: false, relativeUncertainty: null });
    expect(coarse?.reasons[0]).toContain("too coarse");
  });

  it("refuses a train without a factor and a scale without length", () => {
    expect(() => advise("0")).toThrow(/^factor: /);
    expect(() => adviseMicrometers([one("none", 0, 100)], d(1), 100, "2026-06-01")).toThrow(
      /^micrometers\.none\.scaleLengthUm: /,
    );
    expect(() => adviseMicrometers([], d(1), 0, "2026-06-01")).toThrow(/^reticleDivisions: /);
  });
});

describe("the area factor", () => {
  it("counts the factor twice", () => {
    const { areaFactor, standardUncertainty } = squaredFactor(d("2.5"), d("0.0025"));
    expect(standardUncertainty.div(areaFactor).toString()).toBe("0.002");
  });

  it("refuses what is no factor and no grid", () => {
    expect(() => squaredFactor(d(0), d(0))).toThrow(/^factor: /);
    expect(() => squaredFactor(d(1), d(-1))).toThrow(/^standardUncertainty: /);
    expect(() => gridArea(d(10), d(-1), d(1))).toThrow(/^rows: /);
  });
});
