import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { answerSettingsKey } from "#renderer/screens/calibrate/settings-keys.ts";
import {
  BLANK_SETTING,
  SETTING_KEYS,
  type SettingPlace,
  withBlankEnd,
  withoutBlankEnd,
  withText,
} from "#renderer/screens/calibrate/settings-rows.ts";
import { press } from "../grid/grid-fixture.ts";
import { setting } from "./calibration-fixture.ts";

const cell = (place: SettingPlace, text: string) => ({ ...place, text, rows: 2 });
const go = (row: number, key: SettingPlace["key"]) => ({ go: { row, key } });
const NOTHING = { say: "nothing" };

describe("keys in the settings table", () => {
  it.each([
    ["Enter goes on", press("Enter"), cell({ row: 0, key: "reticleLeft" }, "0"), go(0, "reticleRight")],
    [
      "Enter at the end of a row goes to the next",
      press("Enter"),
      cell({ row: 0, key: "lineRight" }, "9"),
      go(1, "reticleLeft"),
    ],
    ["Enter on an empty cell stays", press("Enter"), cell({ row: 0, key: "lineLeft" }, ""), NOTHING],
    [
      "- on an empty cell steps back",
      press("-"),
      cell({ row: 1, key: "reticleLeft" }, ""),
      go(0, "lineRight"),
    ],
    ["- at the start stays", press("-"), cell({ row: 0, key: "reticleLeft" }, ""), NOTHING],
    ["- behind text is typed", press("-"), cell({ row: 0, key: "reticleLeft" }, "1"), null],
    ["+ begins the next setting", press("+"), cell({ row: 0, key: "lineLeft" }, "1"), go(1, "reticleLeft")],
    [
      "the arrow down goes down",
      press("ArrowDown"),
      cell({ row: 0, key: "lineLeft" }, "1"),
      go(1, "lineLeft"),
    ],
    ["the arrow up goes up", press("ArrowUp"), cell({ row: 1, key: "lineLeft" }, "1"), go(0, "lineLeft")],
    ["a digit is typed", press("7"), cell({ row: 0, key: "lineLeft" }, "1"), null],
    ["Ctrl+C is the browser's", press("c", { ctrl: true }), cell({ row: 0, key: "lineLeft" }, "1"), null],
    [
      "NumLock off is said",
      press("Home", { code: "Numpad7", numLock: false }),
      cell({ row: 0, key: "lineLeft" }, ""),
      { say: "numLockOff" },
    ],
  ])("%s", (_name, facts, at, answer) => {
    expect(answerSettingsKey(facts, at)).toEqual(answer);
  });
});

describe("rows of settings", () => {
  it("there is always one blank row behind the last that holds anything", () => {
    const rows = withText([BLANK_SETTING], { row: 0, key: "reticleLeft" }, "0");
    expect(rows).toEqual([setting("0", "", "", ""), BLANK_SETTING]);
    expect(withText(rows, { row: 0, key: "reticleLeft" }, "")).toEqual([BLANK_SETTING]);
  });

  it("nothing typed is lost, whatever is typed where, and blank rows between stay in their places", () => {
    const edits = fc.array(
      fc.record({
        row: fc.nat(6),
        key: fc.constantFrom(...SETTING_KEYS),
        text: fc.constantFrom("", "1", "9x"),
      }),
      { maxLength: 40 },
    );
    fc.assert(
      fc.property(edits, (list) => {
        const expected = new Map<string, string>();
        let rows = withBlankEnd([]);
        for (const { row, key, text } of list) {
          if (row >= rows.length) continue;
          rows = withText(rows, { row, key }, text);
          expected.set(`${row}.${key}`, text);
        }
        const sent = withoutBlankEnd(rows);
        for (const [place, text] of expected) {
          const [row = "", key = ""] = place.split(".");
          expect(sent[Number(row)]?.[key as SettingPlace["key"]] ?? "").toBe(text);
        }
      }),
    );
  });
});
