import { describe, expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import { DEFAULT_CONDITIONS, defaultTypedConditions } from "#core/calibration/default-conditions.ts";
import { factorRecordOf } from "#core/calibration/factor-record.ts";
import { readCalibration, type TypedCalibration } from "#core/calibration/typed-calibration.ts";
import { workingFactor } from "#core/calibration/working-factor.ts";
import { FactorRecord, TypedConditions } from "#core/contract/records/calibration.ts";
import { decimal } from "#core/quantity/decimal.ts";

const row = (reticleLeft: string, reticleRight: string, lineLeft: string, lineRight: string) => ({
  reticleLeft,
  reticleRight,
  lineLeft,
  lineRight,
});
const BLANK = row("", " ", "", "");

function typed(own: Partial<TypedCalibration> = {}): TypedCalibration {
  return {
    settings: [row("0", "96.4", "0", "100")],
    conditions: defaultTypedConditions(),
    estimator: "origin-regression",
    coverage: "t95",
    scale: {
      lines: [
        { nominal: "0", error: "0" },
        { nominal: "1000", error: "0.12" },
      ],
      expandedUncertainty: "0.3",
      coverageFactor: "2",
    },
    linePitchUm: "10",
    ...own,
  };
}

describe("a calibration as typed", () => {
  it("reads micrometer line numbers as positions by the pitch", () => {
    const read = readCalibration(typed({ settings: [row("0,5", "96.9", "2", "98.5")] }));
    expect(read.settings[0]?.lineLeft.toString()).toBe("20");
    expect(read.settings[0]?.lineRight.toString()).toBe("985");
    expect(read.settings[0]?.reticleLeft.toString()).toBe("0.5");
  });

  it("finds the last line of a scale whose pitch has no last digit", () => {
    const linePitchUm = decimal(1000).div(300).toFixed();
    const read = readCalibration(typed({ settings: [row("0", "96.4", "0", "300")], linePitchUm }));
    expect(read.settings[0]?.lineRight.toString()).toBe("1000");
  });

  it("skips rows nobody has typed in, and names rows as the person counts them", () => {
    const settings = [BLANK, row("0", "96.4", "0", "100"), BLANK, row("0", "9 9", "0", "100")];
    expect(() => readCalibration(typed({ settings }))).toThrow(/^settings\.3\.reticleRight: .*space/);
    expect(readCalibration(typed({ settings: settings.slice(0, 3) })).settings).toHaveLength(1);
  });

  it.each<[string, Partial<TypedCalibration>, RegExp]>([
    ["nothing typed", { settings: [BLANK, BLANK] }, /^settings: /],
    ["half a row", { settings: [row("0", "96.4", "0", "")] }, /^settings\.0\.lineRight: is empty/],
    [
      "a span of no divisions",
      { settings: [BLANK, row("5", "5", "0", "100")] },
      /^settings\.1\.reticleRight: /,
    ],
    [
      "a line off the micrometer",
      { settings: [BLANK, row("0", "96.4", "0", "101")] },
      /^settings\.1\.lineRight: /,
    ],
    ["a line below zero", { settings: [row("0", "96.4", "-1", "100")] }, /^settings\.0\.lineLeft: /],
    [
      "10,000 digits",
      { settings: [row("0", "9".repeat(10_000), "0", "100")] },
      /^settings\.0\.reticleRight: /,
    ],
    [
      "an empty condition",
      { conditions: { ...defaultTypedConditions(), temperature: "" } },
      /^conditions\.temperature: /,
    ],
    [
      "an exponent",
      { conditions: { ...defaultTypedConditions(), expansion: "9.1e-6" } },
      /^conditions\.expansion: .*exponent/,
    ],
    [
      "per cent for a fraction",
      { conditions: { ...defaultTypedConditions(), trainHalfWidth: "15" } },
      /^conditions\.trainHalfWidth: .*fraction/,
    ],
    ["a pitch of zero", { linePitchUm: "0" }, /^linePitchUm: /],
  ])("with %s is refused at its field", (_, own, field) => {
    expect(() => readCalibration(typed(own))).toThrow(field);
  });

  it("takes the certificate's own temperature when it has one", () => {
    const scale = { ...typed().scale, temperature: "23" };
    expect(readCalibration(typed({ scale })).scale.referenceTemperature?.toString()).toBe("23");
    expect(readCalibration(typed()).scale.referenceTemperature).toBeUndefined();
  });
});

describe("default conditions", () => {
  it("are readable as typed, complete, and say where each comes from", () => {
    expect(() => TypedConditions.parse(defaultTypedConditions())).not.toThrow();
    expect(Object.keys(defaultTypedConditions()).sort()).toEqual(Object.keys(DEFAULT_CONDITIONS).sort());
    for (const { why } of Object.values(DEFAULT_CONDITIONS)) expect(why.length).toBeGreaterThan(20);
  });

  it("take the micrometer's own expansion", () => {
    expect(defaultTypedConditions("0.00000055", "0.0000001")).toMatchObject({
      expansion: "0.00000055",
      expansionHalfWidth: "0.0000001",
    });
  });
});

describe("the record of a factor", () => {
  it("is a record of the contract, keeps all digits and shows two of U", () => {
    const result = calibrate(readCalibration(typed()));
    const record = factorRecordOf(result);
    expect(FactorRecord.parse(record)).toEqual(record);
    expect(decimal(record.factor).equals(result.factor)).toBe(true);
    expect(record.shownFactor.split(".")[1]?.length).toBe(record.shownUncertainty.split(".")[1]?.length);
    expect(record.relativeDeviation).toBeNull();
  });
});

describe("a working factor", () => {
  it("keeps the exact one and the error that rounding brings", () => {
    const rounded = workingFactor(decimal(10).div(7), 1);
    expect(rounded.working.toString()).toBe("1.4");
    expect(rounded.relativeError.toFixed(10)).toBe("-0.0200000000");
  });

  it("refuses to round a factor away", () => {
    expect(() => workingFactor(decimal("0.04"), 1)).toThrow(/^places: /);
    expect(() => workingFactor(decimal(0), 1)).toThrow(/^factor: /);
  });
});
