// @vitest-environment jsdom
import { describe, expect, it } from "vitest";
import { numberedKey } from "#renderer/parts/layout/numbered-key.ts";
import { keypadAct } from "#renderer/screens/measure/keypad/keypad-acts.ts";
import { press } from "../grid/grid-fixture.ts";

describe("the second key after /", () => {
  it.each([
    ["-", "undo"],
    ["+", "redo"],
    ["*", "strike"],
    ["0", "menu"],
    [".", "changer"],
    [",", "changer"],
  ])("%s is %s", (key, act) => {
    expect(keypadAct(press(key), { turret: "" })).toBe(act);
  });

  it("leaves positions to the turret, and everything else to the grid", () => {
    expect(keypadAct(press("2"), { turret: "" })).toBeNull();
    expect(keypadAct(press("0"), { turret: "1" }), "position 10").toBeNull();
    expect(keypadAct(press("-"), { turret: null })).toBeNull();
    expect(keypadAct(press("-", { ctrl: true }), { turret: "" }), "a zoom of the browser").toBeNull();
  });
});

describe("numbered choices", () => {
  const key = (name: string, target: EventTarget | null = document.body) =>
    ({ key: name, ctrlKey: false, altKey: false, metaKey: false, target }) as KeyboardEvent;

  it("are chosen by their digit and left by the minus", () => {
    expect(numberedKey(key("2"), 3)).toBe(2);
    expect(numberedKey(key("4"), 3)).toBeNull();
    expect(numberedKey(key("0"), 3)).toBeNull();
    expect(numberedKey(key("-"), 3)).toBe("leave");
    expect(numberedKey(key("Enter"), 3)).toBeNull();
  });

  it("leave the keys to a field that holds text", () => {
    const field = document.createElement("input");
    expect(numberedKey(key("2", field), 3)).toBe(2);
    field.value = "grain ";
    expect(numberedKey(key("2", field), 3)).toBeNull();
    expect(numberedKey(key("-", field), 3)).toBeNull();
  });
});
