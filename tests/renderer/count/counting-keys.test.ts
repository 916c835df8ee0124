import { describe, expect, it } from "vitest";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { heardAfter, markPassed } from "#renderer/screens/count/hand/announce.ts";
import {
  NO_PREFIX,
  type PadCommand,
  type PadPrefix,
  padCommand,
  placeOnPad,
  whyNotBindable,
} from "#renderer/screens/count/hand/counting-keys.ts";
import { announceTestState } from "./announce-fixture.ts";
import { CATEGORIES } from "./count-fixture.ts";

const KEYS: readonly CountCategory[] = [
  ...CATEGORIES,
  { key: "filaments", name: "filaments", keyCode: "KeyF", kind: "object", halves: false, decimals: true },
];

/** Presses keys by their codes and collects what they come to. */
function type(...codes: readonly string[]): string[] {
  let prefix: PadPrefix = NO_PREFIX;
  const said: string[] = [];
  for (const code of codes) {
    const command: PadCommand | null = padCommand({ code, repeat: false, held: false }, prefix, KEYS);
    if (command?.kind === "prefix") {
      prefix = command.prefix;
      continue;
    }
    if (command?.kind === "press") {
      said.push(`${command.weight} ${command.category.key}`);
      prefix = NO_PREFIX;
    } else said.push(command?.kind ?? "nothing");
  }
  return said;
}

describe("the pad", () => {
  it("one press is one object, by the place of the key, with letters beside the keypad", () => {
    expect(type("Numpad1", "NumpadDecimal", "KeyA", "Numpad9")).toEqual([
      "1 pinus",
      "1 marker",
      "1 alnus",
      "refuse",
    ]);
  });

  it("says that a key of no category counted nothing, and leaves keys that type nothing alone", () => {
    const unbound = padCommand({ code: "KeyQ", repeat: false, held: false }, NO_PREFIX, CATEGORIES);
    expect(unbound).toEqual({
      kind: "refuse",
      words: "“Q” is the key of no category: nothing was counted.",
    });
    for (const code of ["Tab", "F7", "ArrowDown", "ShiftLeft", "PageDown"])
      expect(type(code)).toEqual(["nothing"]);
    expect(padCommand({ code: "KeyQ", repeat: false, held: true }, NO_PREFIX, CATEGORIES)).toBeNull();
  });

  it("takes digits and signs of a keyboard without a keypad, except where a category has the key itself", () => {
    const place = (code: string, key: string) => placeOnPad({ code, key }, CATEGORIES);
    expect(place("Digit1", "1")).toBe("Numpad1");
    // A layout whose top row prints signs: the place counts, as on the keypad.
    expect(place("Digit1", "&")).toBe("Numpad1");
    expect(place("BracketRight", "+")).toBe("NumpadAdd");
    expect(place("Slash", "-")).toBe("NumpadSubtract");
    expect(place("Numpad1", "End")).toBe("Numpad1");
    expect(place("KeyA", "a")).toBe("KeyA");
    const own = CATEGORIES.map((one, at) => (at === 0 ? { ...one, keyCode: "Digit1" } : one));
    expect(placeOnPad({ code: "Digit1", key: "1" }, own)).toBe("Digit1");
  });

  it("a colony is +, its number, +, its key: digits that are categories too stay digits until then", () => {
    expect(type("NumpadAdd", "Numpad1", "Numpad2", "NumpadAdd", "Numpad2", "Numpad1")).toEqual([
      "12 betula",
      "1 pinus",
    ]);
  });

  it("a letter key ends the number by itself", () => {
    expect(type("NumpadAdd", "Numpad8", "KeyA")).toEqual(["8 alnus"]);
  });

  it("* makes the next a half, where halves are taken", () => {
    expect(type("NumpadMultiply", "Numpad1", "NumpadMultiply", "Numpad2")).toEqual(["0.5 pinus", "refuse"]);
  });

  it("- gives a number up before it takes anything back", () => {
    expect(type("NumpadAdd", "Numpad3", "NumpadSubtract", "Numpad1", "NumpadSubtract")).toEqual([
      "1 pinus",
      "undo",
    ]);
  });

  it("a number without digits, of zero or of a million is no colony", () => {
    expect(type("NumpadAdd", "NumpadAdd")).toEqual(["refuse"]);
    expect(type("NumpadAdd", "Numpad0", "KeyA")).toEqual(["refuse"]);
    const million = Array.from({ length: 7 }, () => "Numpad9");
    expect(type("NumpadAdd", ...million, "NumpadAdd", "Numpad1")).toEqual(["refuse"]);
    // Nothing is cut off: what is too long stays too long until it is given up.
    expect(type("NumpadAdd", ...million, ...million, ...million)).toEqual(["refuse"]);
  });

  it("a decimal is what was typed or refused, never other digits", () => {
    const number = (...codes: string[]) => ["NumpadAdd", ...codes, "NumpadAdd"];
    const [three, mark, four, five] = ["Numpad3", "NumpadDecimal", "Numpad4", "Numpad5"];
    expect(type(...number(three, mark, four), "Numpad1")).toEqual(["refuse"]);
    expect(type(...number(three, mark, five), "Numpad1")).toEqual(["3.5 pinus"]);
    expect(type(...number(three, mark, five), "Numpad2")).toEqual(["refuse"]);
    expect(type("NumpadAdd", three, mark, mark)).toEqual(["refuse"]);
    expect(type("NumpadAdd", "Numpad1", "KeyE", five)).toEqual(["refuse"]);
    expect(type("NumpadAdd", three, "NumpadMultiply", "Numpad1")).toEqual(["refuse"]);
    expect(type(...number(three), "NumpadAdd")).toEqual(["refuse"]);
    expect(type(...number(mark))).toEqual(["refuse"]);
  });

  it("a key counted in decimal units takes decimals as they are typed, to three places", () => {
    const length = (...digits: string[]) => ["NumpadAdd", "Numpad2", "NumpadDecimal", ...digits, "NumpadAdd"];
    expect(type(...length("Numpad4"), "KeyF")).toEqual(["2.4 filaments"]);
    expect(type(...length("Numpad1", "Numpad2", "Numpad5"), "KeyF")).toEqual(["2.125 filaments"]);
    expect(type(...length("Numpad1", "Numpad2", "Numpad5", "Numpad5"), "KeyF")).toEqual(["refuse"]);
    expect(type("NumpadMultiply", "KeyF")).toEqual(["0.5 filaments"]);
    expect(type(...length("Numpad4"), "Numpad1")).toEqual(["refuse"]);
  });

  it("Enter begins a field, but not while a number waits for its key", () => {
    expect(type("NumpadEnter", "Enter", "NumpadAdd", "Numpad4", "NumpadEnter")).toEqual([
      "field",
      "field",
      "refuse",
    ]);
  });

  it("Space opens the search, and the keypad's point does where no category lies under it", () => {
    expect(type("Space")).toEqual(["find"]);
    expect(type("NumpadAdd", "Numpad3", "NumpadAdd", "Space")).toEqual(["find"]);
    expect(type("NumpadAdd", "Numpad3", "Space")).toEqual(["refuse"]);
    const free = CATEGORIES.filter(({ keyCode }) => keyCode !== "NumpadDecimal");
    const point = { code: "NumpadDecimal", repeat: false, held: false };
    expect(padCommand(point, NO_PREFIX, free)).toEqual({ kind: "find" });
    expect(padCommand(point, NO_PREFIX, CATEGORIES)).toMatchObject({ kind: "press" });
  });

  it("a key held down counts once, and says so", () => {
    const key = { code: "Numpad1", repeat: true, held: false };
    expect(padCommand(key, NO_PREFIX, CATEGORIES)).toMatchObject({ kind: "refuse", words: /once/ });
  });

  it("leaves keys with Ctrl or Alt to the program", () => {
    expect(padCommand({ code: "Numpad1", repeat: false, held: true }, NO_PREFIX, CATEGORIES)).toBeNull();
  });

  it.each(["NumpadEnter", "NumpadSubtract", "NumpadAdd", "F5", "Space", "ArrowUp"])(
    "%s can't be given to a category",
    (code) => {
      expect(whyNotBindable(code)).not.toBeNull();
    },
  );
  it.each(["Numpad7", "NumpadDecimal", "KeyQ", "Digit4"])("%s can", (code) => {
    expect(whyNotBindable(code)).toBeNull();
  });
});

describe("what is heard", () => {
  it("a total is spoken when its mark is passed, also by a colony that leaps over it", () => {
    expect([markPassed(49, 50, 50), markPassed(50, 51, 50), markPassed(49.5, 50.5, 50)]).toEqual([
      50,
      null,
      50,
    ]);
    expect([markPassed(40, 160, 50), markPassed(49, 50, 0)]).toEqual([150, null]);
  });

  it("each category has its own tone, a field its number, and what was taken back its name", () => {
    const { before, after } = announceTestState();
    const betula = CATEGORIES[1];
    if (!betula) throw new Error("the fixture has no second category");
    const press = heardAfter({ kind: "press", category: betula, weight: "1" }, before, after, 2);
    expect(press).toEqual({ tone: "category-1", words: "2" });
    expect(heardAfter({ kind: "field" }, before, after, 2).words).toBe("field 1");
    expect(heardAfter({ kind: "undo" }, after, before, 2).words).toBe("Betula taken back");
  });
});
