import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { coincidences, linesInSight, placeOfLine } from "#renderer/charts/scales-geometry.ts";
import { matchScales, matchWords, settingToDraw } from "#renderer/screens/calibrate/scales-match.ts";
import { BLANK_SETTING } from "#renderer/screens/calibrate/settings-rows.ts";
import { setting } from "./calibration-fixture.ts";

describe("how the two scales are drawn", () => {
  it("follows the readings: line 100 stands on 97 divisions", () => {
    const { match, marks, isRead } = matchScales(setting("0", "97", "0", "100"), 1);
    expect(isRead).toBe(true);
    expect(placeOfLine(match, 100)).toBeCloseTo(97, 12);
    expect(placeOfLine(match, 50)).toBeCloseTo(48.5, 12);
    expect(marks).toEqual([
      { division: 0, line: 0 },
      { division: 97, line: 100 },
    ]);
  });

  it("takes the expected factor while only the left end is read", () => {
    const matched = matchScales(setting("2,5", "", "3", ""), 4);
    expect(matched.isRead).toBe(false);
    expect(placeOfLine(matched.match, 4)).toBe(6.5);
    expect(matchWords(matched, decimal("10"))).toMatch(
      /covers 4\.000 reticle divisions.*2\.5 div stands on line 3/,
    );
  });

  it("unreadable or reversed readings leave the drawing as expected", () => {
    expect(matchScales(setting("0", "x", "0", "10"), 4).isRead).toBe(false);
    expect(matchScales(setting("9", "0", "0", "10"), 4).isRead).toBe(false);
  });

  it("draws the setting at the cursor, or the last that holds anything", () => {
    const first = setting("0", "97", "0", "100");
    expect(settingToDraw([first, BLANK_SETTING], 1)).toBe(first);
    expect(settingToDraw([first, setting("1", "", "", ""), BLANK_SETTING], 1)?.reticleLeft).toBe("1");
    expect(settingToDraw([BLANK_SETTING], 0)).toBeUndefined();
  });

  it("marks only lines that stand on a division: the first and the last when 100 lines cover 97 divisions", () => {
    const { match } = matchScales(setting("0", "97", "0", "100"), 1);
    const lines = linesInSight(match, 100, 100, 0);
    expect(lines).toHaveLength(101);
    const on = coincidences(lines, 100, 0.004).map((one) => [one.line, one.division]);
    expect(on).toEqual([
      [0, 0],
      [100, 97],
    ]);
  });

  it("shows only lines in sight, and no more than the eye could part", () => {
    expect(
      linesInSight({ reticleLeft: 0, lineLeft: 0, divisionsPerLine: 4 }, 100, 100, 4).at(-1)?.number,
    ).toBe(26);
    expect(
      linesInSight({ reticleLeft: 0, lineLeft: 0, divisionsPerLine: 0.01 }, 100_000, 100, 0).length,
    ).toBeLessThan(1100);
    expect(linesInSight({ reticleLeft: 0, lineLeft: 0, divisionsPerLine: 0 }, 100, 100, 0)).toEqual([]);
  });
});
