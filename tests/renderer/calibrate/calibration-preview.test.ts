import { describe, expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import { readCalibration } from "#core/calibration/typed-calibration.ts";
import { previewCalibration } from "#renderer/screens/calibrate/calibration-preview.ts";
import { context, draft, setting } from "./calibration-fixture.ts";

const GOOD = setting("0", "96.4", "0", "100");

describe("what follows from the settings typed so far", () => {
  it("96.4 divisions on 1 mm give 10.3734… µm/div (invented readings)", () => {
    const { result, problems } = previewCalibration(context(), draft(GOOD));
    expect(result?.factor.toFixed(9)).toBe("10.373443983");
    expect(problems).toEqual({});
  });

  it("is what the service calculates from the same typed text", () => {
    const typed = draft(GOOD, setting("0,5", "97,0", "0", "100"));
    const { certificate } = context();
    const service = calibrate(
      readCalibration({
        settings: typed.settings,
        conditions: typed.conditions,
        estimator: typed.estimator,
        coverage: typed.coverage,
        scale: certificate,
        linePitchUm: "10" as never,
      }),
    );
    const { result } = previewCalibration(context(), typed);
    expect(result?.factor.toFixed()).toBe(service.factor.toFixed());
    expect(result?.uncertainty.expanded.toFixed()).toBe(service.uncertainty.expanded.toFixed());
  });

  it("a row under way is no mistake and does not disturb the result", () => {
    const { result, problems, rows } = previewCalibration(context(), draft(GOOD, setting("1", "", "", "")));
    expect(problems).toEqual({});
    expect(rows.map((row) => row !== null)).toEqual([true, false, false]);
    expect(result?.settings).toHaveLength(1);
  });

  it.each([
    ["letters", setting("0", "9x", "0", "100"), "settings.0.reticleRight", /not part of a number/],
    ["an exponent", setting("0", "1e999", "0", "100"), "settings.0.reticleRight", /exponent/],
    ["a zero span", setting("5", "5", "0", "100"), "settings.0.reticleRight", /span of zero/],
    [
      "reversed lines",
      setting("0", "96.4", "100", "0"),
      "settings.0.lineRight",
      /before the line on the left/,
    ],
    ["a line beyond the scale", setting("0", "96.4", "0", "101"), "settings.0.lineRight", /./],
  ])("%s: the reason stands at its field and nothing is calculated", (_name, bad, field, reason) => {
    const { problems, result } = previewCalibration(context(), draft(bad));
    expect(problems[field]).toMatch(reason);
    expect(result).toBeNull();
  });

  it("a bad row leaves the good ones their result", () => {
    const { result, problems, rows } = previewCalibration(
      context(),
      draft(setting("x", "9", "0", "1"), GOOD),
    );
    expect(Object.keys(problems)).toEqual(["settings.0.reticleLeft"]);
    expect(rows[1]?.ratio.toFixed(4)).toBe("10.3734");
    expect(result).not.toBeNull();
  });

  it("an unreadable condition is named", () => {
    const typed = draft(GOOD);
    const { problems, result } = previewCalibration(context(), {
      ...typed,
      conditions: { ...typed.conditions, temperature: "warm" },
    });
    expect(problems["conditions.temperature"]).toBeDefined();
    expect(result).toBeNull();
  });

  it("names the likely cause when the factor is twice the nominal one", () => {
    const { detective } = previewCalibration(context(), draft(setting("0", "50", "0", "100")));
    expect(detective?.normal).toBe(false);
    expect(detective?.suspects.length).toBeGreaterThan(0);
  });
});
