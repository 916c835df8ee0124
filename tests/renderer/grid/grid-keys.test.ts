import { describe, expect, it } from "vitest";
import type { KeyAnswer } from "#renderer/grid/grid-keys.ts";
import { answerKey } from "#renderer/grid/grid-keys.ts";
import type { GridState } from "#renderer/grid/grid-state.ts";
import { isPadWithoutNumLock } from "#renderer/grid/key-facts.ts";
import { column, GridDriver, press } from "./grid-fixture.ts";

const at = (key: string, more: Partial<GridState> = {}): GridState => ({
  ...new GridDriver().state,
  cursor: { row: 0, column: column(key) },
  ...more,
});
const reading = at("polar.left");
const typing = at("polar.left", { editing: { text: "12", mode: "replace", touched: true } });
const marked = at("polar.left", { editing: { text: "1.", mode: "replace", touched: true } });
const reopened = at("polar.left", { editing: { text: "12", mode: "replace", touched: false } });
const editing = at("polar.left", { editing: { text: "12", mode: "edit", touched: true } });
const label = at("label");
const labelTyping = at("label", { editing: { text: "Be", mode: "replace", touched: true } });
const computed = at("polar.size");
const turret = at("polar.left", { turret: "" });
const waiting = at("polar.left", { total: 5 });

const native = (type?: string): Partial<KeyAnswer> => ({
  native: true,
  action: type ? (expect.objectContaining({ type }) as never) : null,
});
const acts = (type: string, more: object = {}): Partial<KeyAnswer> => ({
  native: false,
  action: expect.objectContaining({ type, ...more }) as never,
});

describe("the data grid's keys (w3c/aria-practices, grid pattern) do what the pattern says", () => {
  it.each([
    ["ArrowRight moves one cell", reading, press("ArrowRight"), acts("move", { by: "right" })],
    ["ArrowLeft moves one cell", reading, press("ArrowLeft"), acts("move", { by: "left" })],
    ["ArrowDown moves one row", computed, press("ArrowDown"), acts("move", { by: "down" })],
    ["ArrowUp moves one row", reading, press("ArrowUp"), acts("move", { by: "up" })],
    ["Home goes to the row's first cell", reading, press("Home"), acts("move", { by: "rowStart" })],
    ["End goes to the row's last cell", reading, press("End"), acts("move", { by: "rowEnd" })],
    [
      "Ctrl+Home goes to the first cell",
      reading,
      press("Home", { ctrl: true }),
      acts("move", { by: "first" }),
    ],
    ["Ctrl+End goes to the last cell", reading, press("End", { ctrl: true }), acts("move", { by: "last" })],
    ["PageDown moves a screen", reading, press("PageDown"), acts("move", { by: "pageDown" })],
    ["PageUp moves a screen", reading, press("PageUp"), acts("move", { by: "pageUp" })],
    ["F2 opens the editor", reading, press("F2"), acts("open")],
    ["F2 gives the caret to the arrows", typing, press("F2"), acts("switchMode")],
    ["Enter opens the editor", reading, press("Enter"), acts("open")],
    ["Enter in the editor takes the text", typing, press("Enter"), acts("take", { onward: "next" })],
    ["Escape gives the edit up", typing, press("Escape"), acts("cancel")],
    [
      "an arrow while typing over takes and moves",
      typing,
      press("ArrowRight"),
      acts("move", { by: "right" }),
    ],
    ["Tab in the editor takes and goes on", typing, press("Tab"), acts("take", { onward: "tab" })],
    [
      "Shift+Tab takes and goes back",
      typing,
      press("Tab", { shift: true }),
      acts("take", { onward: "backTab" }),
    ],
    ["Delete asks before striking", reading, press("Delete"), acts("askStrike")],
  ])("%s", (_name, state, facts, answer) => {
    expect(answerKey(state, facts)).toMatchObject(answer);
  });

  it.each([
    ["an arrow in F2 moves the caret", editing, press("ArrowLeft")],
    ["Home in F2 moves the caret", editing, press("Home")],
    ["Tab with no editor leaves the grid", reading, press("Tab")],
    ["Shift+Tab with no editor leaves the grid", reading, press("Tab", { shift: true })],
    ["Alt+3 is the program's", reading, press("3", { alt: true })],
    ["Ctrl+C is the browser's", reading, press("c", { ctrl: true })],
    ["a modifier alone is nothing", reading, press("Shift", { shift: true })],
    ["a composing input method keeps its keys", reading, press("k", { composing: true })],
  ])("%s", (_name, state, facts) => {
    expect(answerKey(state, facts)).toBeNull();
  });
});

describe("the keys of the daily loop", () => {
  it.each([
    ["a digit opens the editor and lands in it", reading, press("7"), native("typeOver")],
    ["a decimal comma does too", reading, press(","), native("typeOver")],
    ["a further digit lands in it", typing, press("7"), native()],
    ["the first mark lands in it", typing, press("."), native()],
    ["a second mark lands, for the reading to be refused as typed", marked, press(","), native()],
    [
      "a mark replaces text opened to be typed over",
      { ...marked, editing: { text: "1.5", mode: "replace", touched: false } } as GridState,
      press("."),
      native(),
    ],
    ["a letter amid a number does too", typing, press("e"), native()],
    ["and a minus amid a number", typing, press("-"), native()],
    ["a sign on an empty reading", reading, press("#"), native("typeOver")],
    ["a minus on an empty cell steps back", reading, press("-"), acts("stepBack")],
    ["a minus on a reopened cell steps back further", reopened, press("-"), acts("stepBack")],
    ["in F2 a minus is typed", editing, press("-"), native()],
    ["+ begins the next specimen", reading, press("+"), acts("nextSpecimen")],
    ["+ takes what is typed first", typing, press("+"), acts("take", { onward: "specimen" })],
    ["/ asks for a turret position", reading, press("/"), acts("turretOpen")],
    ["/ takes what is typed first", typing, press("/"), acts("take", { onward: "turret" })],
    ["* repeats the label above", reading, press("*"), acts("repeatLabel")],
    ["a letter goes to the label", reading, press("k"), native("goTo")],
    ["a letter on a computed cell goes to the label", computed, press("é"), native("goTo")],
    ["an operator in a label is text", labelTyping, press("-"), native()],
    ["a digit in a label is text", label, press("7"), native("typeOver")],
    ["a digit after / is a position", turret, press("2"), acts("turretDigit", { digit: "2" })],
    ["Enter after / chooses", turret, press("Enter"), acts("turretChoose")],
    ["Escape after / leaves the objective", turret, press("Escape"), acts("turretCancel")],
    ["a letter after / changes nothing", turret, press("k"), acts("turretOther")],
    ["a digit on a row that is still being fetched says so", waiting, press("7"), acts("waiting")],
  ])("%s", (_name, state, facts, answer) => {
    expect(answerKey(state, facts)).toMatchObject(answer);
  });

  it("the keypad's mark is the decimal mark whatever the layout prints", () => {
    expect(answerKey(typing, press("٫", { code: "NumpadDecimal" }))).toEqual({
      action: null,
      native: false,
      insert: ".",
    });
  });
});

describe("a keypad with NumLock off", () => {
  it.each([
    ["Numpad7", "Home"],
    ["Numpad4", "ArrowLeft"],
    ["Numpad5", "Clear"],
    ["Numpad0", "Insert"],
    ["NumpadDecimal", "Delete"],
  ])("%s arriving as %s says so in place of moving", (code, key) => {
    const facts = press(key, { code, numLock: false });
    expect(isPadWithoutNumLock(facts)).toBe(true);
    expect(answerKey(reading, facts)).toMatchObject(acts("numLockOff"));
  });

  it.each([
    ["the arrow keys proper move", press("ArrowLeft", { code: "ArrowLeft", numLock: false })],
    ["with NumLock on and Shift held the pad moves", press("Home", { code: "Numpad7", shift: true })],
  ])("%s", (_name, facts) => {
    expect(isPadWithoutNumLock(facts)).toBe(false);
  });
});
